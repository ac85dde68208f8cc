#include "cad_features.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <tuple>

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp.hxx>
#include <BRepTools.hxx>
#include <BRepTopAdaptor_FClass2d.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>

namespace standpoint::scenes {
namespace {

/// Real files hold faces without extent, mm^2.
constexpr double kLeastArea = 1;

struct Bounds {
  double low_u, high_u, low_v, high_v;
};

Bounds bounds_of(const TopoDS_Face& face) {
  Bounds b{};
  BRepTools::UVBounds(face, b.low_u, b.high_u, b.low_v, b.high_v);
  return b;
}

double area_of(const TopoDS_Face& face) {
  GProp_GProps properties;
  BRepGProp::SurfaceProperties(face, properties);
  return properties.Mass();
}

gp_Dir outward(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, double u, double v,
               gp_Pnt& at) {
  gp_Vec du, dv;
  surface.D1(u, v, at, du, dv);
  const gp_Dir normal(du.Crossed(dv));
  return face.Orientation() == TopAbs_REVERSED ? normal.Reversed() : normal;
}

/// Up to `count` places inside the face, spread over a grid of its parameters; the grid's lines
/// keep off the bounds.
void add_points(const TopoDS_Face& face, std::size_t face_number, double area, int count,
                std::vector<FacePoint>& points) {
  const BRepAdaptor_Surface surface(face);
  const Bounds b = bounds_of(face);
  const BRepTopAdaptor_FClass2d place(face, 1e-6);
  const int grid = 3 + 2 * static_cast<int>(std::ceil(std::sqrt(count)));
  std::vector<FacePoint> inside;
  for (int i = 0; i < grid; ++i) {
    for (int j = 0; j < grid; ++j) {
      const double u = b.low_u + (b.high_u - b.low_u) * (i + 0.5) / grid;
      const double v = b.low_v + (b.high_v - b.low_v) * (j + 0.5) / grid;
      if (place.Perform(gp_Pnt2d(u, v)) != TopAbs_IN) continue;
      gp_Pnt at;
      const gp_Dir normal = outward(face, surface, u, v, at);
      inside.push_back({at, normal, face_number, area});
    }
  }
  // Evenly from the list, from the middle of each share of it.
  const std::size_t wanted = std::min<std::size_t>(inside.size(), static_cast<std::size_t>(count));
  for (std::size_t k = 0; k < wanted; ++k) {
    points.push_back(inside[(2 * k + 1) * inside.size() / (2 * wanted)]);
  }
}

/// One cylindrical face, along its axis.
struct RoundFace {
  double low, high;  ///< along the axis, from the point of it that is nearest to the origin
  double area;
};

/// What the faces of one bore share; rounded, so that halves find one another. The axis points to
/// positive z, or y, or x.
using RoundKey = std::tuple<long, long, long, long, long, long, long, bool>;

struct RoundGroup {
  gp_Pnt origin;
  gp_Dir axis;
  double radius = 0;
  bool inside = false;
  std::vector<RoundFace> faces;
};

gp_Dir positive(const gp_Dir& d) {
  constexpr double kZero = 1e-9;
  const double lead = std::abs(d.Z()) > kZero ? d.Z() : std::abs(d.Y()) > kZero ? d.Y() : d.X();
  return lead < 0 ? d.Reversed() : d;
}

bool is_bore(const TopoDS_Face& face, const BRepAdaptor_Surface& surface, const Bounds& b) {
  gp_Pnt at;
  const gp_Dir out = outward(face, surface, b.low_u, b.low_v, at);
  const gp_Ax1 axis = surface.Cylinder().Axis();
  const gp_Vec from_axis(axis.Location(), at);
  return gp_Vec(out).Dot(from_axis) < 0;
}

void add_round_face(const TopoDS_Face& face, double area, std::map<RoundKey, RoundGroup>& groups) {
  const BRepAdaptor_Surface surface(face);
  const gp_Cylinder cylinder = surface.Cylinder();
  const gp_Dir axis = positive(cylinder.Axis().Direction());
  const gp_Vec to_place(gp_Pnt(0, 0, 0), cylinder.Location());
  const double along = to_place.Dot(gp_Vec(axis));
  const gp_Pnt origin = cylinder.Location().Translated(gp_Vec(axis) * -along);
  const Bounds b = bounds_of(face);
  const double sign = axis.Dot(cylinder.Axis().Direction()) > 0 ? 1 : -1;
  const double ends[] = {along + sign * b.low_v, along + sign * b.high_v};
  const bool inside = is_bore(face, surface, b);
  const auto grid = [](double value, double step) { return std::lround(value / step); };
  const RoundKey key{grid(origin.X(), 0.01),        grid(origin.Y(), 0.01),
                     grid(origin.Z(), 0.01),        grid(axis.X(), 1e-6),
                     grid(axis.Y(), 1e-6),          grid(axis.Z(), 1e-6),
                     grid(cylinder.Radius(), 1e-3), inside};
  RoundGroup& group = groups[key];
  if (group.faces.empty()) group = {origin, axis, cylinder.Radius(), inside, {}};
  group.faces.push_back({std::min(ends[0], ends[1]), std::max(ends[0], ends[1]), area});
}

/// Faces that overlap along the axis make one feature, if together they go all round.
void add_rounds(const RoundGroup& group, std::vector<RoundFeature>& rounds) {
  std::vector<RoundFace> faces = group.faces;
  std::sort(faces.begin(), faces.end(),
            [](const RoundFace& a, const RoundFace& b) { return a.low < b.low; });
  for (std::size_t i = 0; i < faces.size();) {
    double high = faces[i].high, area = faces[i].area;
    const double low = faces[i].low;
    std::size_t next = i + 1;
    for (; next < faces.size() && faces[next].low < high - 1e-3; ++next) {
      high = std::max(high, faces[next].high);
      area += faces[next].area;
    }
    i = next;
    const double all_round = 2 * std::numbers::pi * group.radius * (high - low);
    if (std::abs(area / all_round - 1) > 1e-3) continue;
    rounds.push_back({group.origin.Translated(gp_Vec(group.axis) * ((low + high) / 2)), group.axis,
                      2 * group.radius, high - low, group.inside});
  }
}

/// The end of a bore that is an edge of a plane facing away from the bore.
struct OpenEnd {
  gp_Pnt centre;
  gp_Dir out;
  double radius = 0;
};

std::vector<OpenEnd> open_ends(const TopoDS_Shape& shape) {
  TopTools_IndexedDataMapOfShapeListOfShape faces_of_edge;
  TopExp::MapShapesAndAncestors(shape, TopAbs_EDGE, TopAbs_FACE, faces_of_edge);
  std::vector<OpenEnd> ends;
  for (int i = 1; i <= faces_of_edge.Extent(); ++i) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(faces_of_edge.FindKey(i)));
    if (curve.GetType() != GeomAbs_Circle) continue;
    const gp_Circ circle = curve.Circle();
    for (const TopoDS_Shape& neighbour : faces_of_edge(i)) {
      const TopoDS_Face face = TopoDS::Face(neighbour);
      const BRepAdaptor_Surface surface(face, false);  // without its bounds: a face has many edges
      if (surface.GetType() != GeomAbs_Plane) continue;
      gp_Pnt at;
      const gp_Dir out = outward(face, surface, 0, 0, at);  // of a plane: the same everywhere
      if (out.IsParallel(circle.Axis().Direction(), 1e-6)) {
        ends.push_back({circle.Location(), out, circle.Radius()});
      }
    }
  }
  return ends;
}

std::optional<HoleInPlane> hole_of(const RoundFeature& bore, const std::vector<OpenEnd>& ends) {
  if (!bore.inside) return std::nullopt;
  for (const OpenEnd& end : ends) {
    if (std::abs(end.radius - bore.diameter / 2) > 1e-3) continue;
    const gp_Pnt there = bore.centre.Translated(gp_Vec(end.out) * (bore.length / 2));
    if (there.Distance(end.centre) < 0.01) {
      return HoleInPlane{end.centre, end.out, bore.diameter, bore.length};
    }
  }
  return std::nullopt;
}

}  // namespace

CadFeatures find_features(const TopoDS_Shape& shape) {
  CadFeatures found;
  std::map<RoundKey, RoundGroup> groups;
  std::size_t face_number = 0;
  for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next(), ++face_number) {
    const TopoDS_Face& face = TopoDS::Face(at.Current());
    const double area = area_of(face);
    if (area < kLeastArea) continue;
    // A point for each quarter of a square metre, up to a hundred.
    const int count = std::clamp(static_cast<int>(area / 250000), 1, 100);
    add_points(face, face_number, area, count, found.points);
    const bool is_round = BRepAdaptor_Surface(face, false).GetType() == GeomAbs_Cylinder;
    if (is_round) add_round_face(face, area, groups);
  }
  for (const auto& [key, group] : groups) add_rounds(group, found.rounds);
  const std::vector<OpenEnd> ends = open_ends(shape);
  for (const RoundFeature& bore : found.rounds) {
    if (const auto hole = hole_of(bore, ends)) found.holes.push_back(*hole);
  }
  return found;
}

}  // namespace standpoint::scenes
