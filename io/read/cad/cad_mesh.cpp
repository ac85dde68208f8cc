#include "io/read/cad/cad_mesh-inl.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <unordered_map>
#include <utility>

#include <BRepAdaptor_Surface.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopoDS_Compound.hxx>

namespace standpoint {
namespace {

using Triangle = std::array<std::uint32_t, 3>;

constexpr int kMostRounds = 10;
/// Of the tolerance: middles are not quite where a triangle is farthest off.
constexpr double kShareAtMiddles = 0.9;

Vec3 point_of(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z()};
}
gp_Pnt to_pnt(const Vec3& v) {
  return {v.x(), v.y(), v.z()};
}

/// A point of the surface.
struct Foot {
  gp_XY uv;
  gp_Pnt point;
  double distance = std::numeric_limits<double>::infinity();
};

/// The foot of `p` on the surface, sought from nearby parameters: a few steps of Gauss-Newton,
/// which suffice where `p` is off by much less than the surface's radius.
Foot foot_of(const gp_Pnt& p, const BRepAdaptor_Surface& surface, gp_XY uv) {
  Foot best;
  for (int step = 0; step < 4; ++step) {
    gp_Pnt point;
    gp_Vec du;
    gp_Vec dv;
    surface.D1(uv.X(), uv.Y(), point, du, dv);
    const gp_Vec off(point, p);
    if (off.Magnitude() < best.distance) {
      best = {uv, point, off.Magnitude()};
    }
    const double uu = du.SquareMagnitude();
    const double ww = dv.SquareMagnitude();
    const double uw = du.Dot(dv);
    const double determinant = uu * ww - uw * uw;
    if (!(determinant > 0)) {
      break;  // a pole or a tip
    }
    const double u = du.Dot(off);
    const double w = dv.Dot(off);
    uv += gp_XY((u * ww - w * uw) / determinant, (w * uu - u * uw) / determinant);
  }
  return best;
}

/// Splits the triangles of one face where they are too far off its surface.
class Refiner {
 public:
  Refiner(const BRepAdaptor_Surface& surface, double allowed, FaceTriangles& face,
          std::vector<gp_XY>& uv)
      : surface_(surface), allowed_(allowed), face_(face), uv_(uv) {}

  void refine() {
    for (int round = 0; round < kMostRounds; ++round) {
      count_edges();
      if (!mark_edges()) {
        return;
      }
      split_triangles();
    }
  }

 private:
  /// What is known of an edge between two nodes.
  struct Edge {
    int triangles = 0;
    bool is_judged = false;
    std::optional<std::uint32_t> middle;  ///< the node that splits it
  };

  static std::uint64_t key(std::uint32_t a, std::uint32_t b) {
    return std::uint64_t{std::min(a, b)} << 32 | std::max(a, b);
  }

  void count_edges() {
    for (auto& [nodes, edge] : edges_) {
      edge.triangles = 0;
    }
    for (const Triangle& t : face_.triangles) {
      for (std::size_t k = 0; k < 3; ++k) {
        ++edges_[key(t[k], t[(k + 1) % 3])].triangles;
      }
    }
  }

  std::uint32_t add_node(const Foot& foot) {
    face_.points.push_back(point_of(foot.point));
    uv_.push_back(foot.uv);
    return static_cast<std::uint32_t>(face_.points.size() - 1);
  }

  Foot middle_of(std::uint32_t a, std::uint32_t b) const {
    return foot_of(to_pnt((face_.points[a] + face_.points[b]) / 2), surface_,
                   (uv_[a] + uv_[b]) / 2);
  }

  [[nodiscard]] bool is_inside(const Edge& edge) const { return edge.triangles == 2; }

  /// Whether there is anything to split.
  bool mark_edges() {
    bool any = false;
    for (const Triangle& t : face_.triangles) {
      bool split = false;
      for (std::size_t k = 0; k < 3; ++k) {
        Edge& edge = edges_[key(t[k], t[(k + 1) % 3])];
        if (is_inside(edge) && !edge.is_judged) {
          edge.is_judged = true;
          if (const Foot foot = middle_of(t[k], t[(k + 1) % 3]); foot.distance > allowed_) {
            edge.middle = add_node(foot);
          }
        }
        split = split || edge.middle;
      }
      any = any || split || mark_for_centre(t);
    }
    return any;
  }

  /// Where only the centre of a triangle is too far off, its longest inner edge is split.
  bool mark_for_centre(const Triangle& t) {
    const Vec3 centre = (face_.points[t[0]] + face_.points[t[1]] + face_.points[t[2]]) / 3;
    const gp_XY near = (uv_[t[0]] + uv_[t[1]] + uv_[t[2]]) / 3;
    if (foot_of(to_pnt(centre), surface_, near).distance <= allowed_) {
      return false;
    }
    double longest = 0;
    std::size_t from = 3;
    for (std::size_t k = 0; k < 3; ++k) {
      const double length = (face_.points[t[k]] - face_.points[t[(k + 1) % 3]]).norm();
      if (is_inside(edges_[key(t[k], t[(k + 1) % 3])]) && length > longest) {
        longest = length;
        from = k;
      }
    }
    if (from == 3) {
      return false;
    }
    const std::uint32_t a = t[from];
    const std::uint32_t b = t[(from + 1) % 3];
    edges_[key(a, b)].middle = add_node(middle_of(a, b));
    return true;
  }

  void split_triangles() {
    std::vector<Triangle> split;
    split.reserve(2 * face_.triangles.size());
    for (const Triangle& t : face_.triangles) {
      split_triangle(t, split);
    }
    face_.triangles = std::move(split);
  }

  void split_triangle(Triangle t, std::vector<Triangle>& out) const {
    std::array<std::optional<std::uint32_t>, 3> middle;
    int count = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      middle[k] = edges_.at(key(t[k], t[(k + 1) % 3])).middle;
      count += middle[k] ? 1 : 0;
    }
    // Turned so that the first edge is split, and of two that are split the other is the second.
    while (count > 0 && count < 3 && !(middle[0] && !middle[2])) {
      std::rotate(t.begin(), t.begin() + 1, t.end());
      std::rotate(middle.begin(), middle.begin() + 1, middle.end());
    }
    if (count == 0) {
      out.push_back(t);
    } else if (count == 1) {
      out.push_back({t[0], *middle[0], t[2]});
      out.push_back({*middle[0], t[1], t[2]});
    } else {
      out.push_back({*middle[0], t[1], *middle[1]});
      if (count == 3) {
        out.push_back({t[0], *middle[0], *middle[2]});
        out.push_back({*middle[2], *middle[1], t[2]});
        out.push_back({*middle[0], *middle[1], *middle[2]});
      } else {
        out.push_back({t[0], *middle[0], *middle[1]});
        out.push_back({t[0], *middle[1], t[2]});
      }
    }
  }

  const BRepAdaptor_Surface& surface_;
  double allowed_;
  FaceTriangles& face_;
  std::vector<gp_XY>& uv_;
  std::unordered_map<std::uint64_t, Edge> edges_;
};

bool is_refinable(const TopoDS_Face& face, const Poly_Triangulation& triangles) {
  TopLoc_Location place;
  return triangles.HasUVNodes() && !BRep_Tool::Surface(face, place).IsNull();
}

}  // namespace

bool has_surface(const TopoDS_Face& face) {
  TopLoc_Location place;
  return !BRep_Tool::Surface(face, place).IsNull();
}

void mesh_faces(const std::vector<TopoDS_Face>& faces, double deflection) {
  TopoDS_Compound all;
  const BRep_Builder builder;
  builder.MakeCompound(all);
  for (const TopoDS_Face& face : faces) {
    builder.Add(all, face);
  }
  IMeshTools_Parameters how;
  how.Deflection = deflection;
  how.Angle = kLargestTurn;
  how.AngleInterior = kLargestTurn;
  how.InParallel = Standard_False;
  const BRepMesh_IncrementalMesh mesher(all, how);
}

FaceTriangles triangles_of(const TopoDS_Face& face, double deflection) {
  FaceTriangles result;
  TopLoc_Location place;
  const Handle(Poly_Triangulation) found = BRep_Tool::Triangulation(face, place);
  if (found.IsNull()) {
    return result;
  }
  const gp_Trsf body_from_face = place.Transformation();
  for (Standard_Integer i = 1; i <= found->NbNodes(); ++i) {
    result.points.push_back(point_of(found->Node(i).Transformed(body_from_face)));
  }
  const bool turned = (face.Orientation() == TopAbs_REVERSED) != body_from_face.IsNegative();
  for (Standard_Integer i = 1; i <= found->NbTriangles(); ++i) {
    std::array<Standard_Integer, 3> corner{};
    found->Triangle(i).Get(corner[0], corner[1], corner[2]);
    if (turned) {
      std::swap(corner[1], corner[2]);
    }
    Triangle t{};
    std::transform(corner.begin(), corner.end(), t.begin(),
                   [](Standard_Integer c) { return static_cast<std::uint32_t>(c - 1); });
    const auto at = [&](std::size_t k) -> const Vec3& { return result.points[t[k]]; };
    if (at(0) != at(1) && at(1) != at(2) && at(2) != at(0)) {
      result.triangles.push_back(t);
    }
  }
  if (is_refinable(face, *found)) {
    const BRepAdaptor_Surface surface(face, Standard_False);
    if (surface.GetType() != GeomAbs_Plane) {
      std::vector<gp_XY> uv;
      for (Standard_Integer i = 1; i <= found->NbNodes(); ++i) {
        uv.push_back(found->UVNode(i).XY());
      }
      Refiner(surface, kShareAtMiddles * deflection, result, uv).refine();
    }
  }
  return result;
}

}  // namespace standpoint
