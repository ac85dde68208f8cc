#include "planner/surface/surface_places.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Geometry>

#include "planner/model/tolerances.h"
#include "planner/stations/zone_polygon.h"

namespace standpoint {
namespace {

using Box = Eigen::AlignedBox3d;

/// Lines that are tried for each place that may be found: triangles fill half of their boxes, but
/// for slivers.
constexpr double kMostTries = 20;
constexpr double kUpCosine = 0.17364817766693033;  ///< of 80 degrees (contract section 9)

/// A triangle that begins with its least corner: whatever the file begins it with, all that is
/// computed of it comes out the same.
struct Facet {
  std::array<Vec3, 3> corners;
  Vec3 normal = Vec3::Zero();
};

bool is_less(const Vec3& a, const Vec3& b) {
  for (Eigen::Index i = 0; i < 3; ++i)
    if (a[i] != b[i]) return a[i] < b[i];
  return false;
}

/// Nothing where it has no area.
std::optional<Facet> facet_of(std::array<Vec3, 3> corners) {
  std::rotate(corners.begin(), std::min_element(corners.begin(), corners.end(), is_less),
              corners.end());
  const Vec3 across = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
  const double length = across.norm();
  if (!(length > 0) || !std::isfinite(length)) return std::nullopt;
  return Facet{corners, across / length};
}

/// In or on the triangle's projection. Two triangles share an edge without a gap: swapping its ends
/// only changes the sign of what is computed.
bool is_inside(const Facet& facet, Eigen::Index u, Eigen::Index v, const Vec2& p) {
  bool has_left = false, has_right = false;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3 &a = facet.corners[k], &b = facet.corners[(k + 1) % 3];
    const double side = (a[u] - p.x()) * (b[v] - p.y()) - (b[u] - p.x()) * (a[v] - p.y());
    has_left = has_left || side > 0;
    has_right = has_right || side < 0;
  }
  return !(has_left && has_right);
}

class Selector {
 public:
  Selector(const Mesh& mesh, const SurfaceSelection& selection)
      : mesh_(mesh), selection_(selection), faces_(selection.faces) {
    std::sort(faces_.begin(), faces_.end());
    if (!selection.polygon.empty()) {
      for (const Vec2& corner : selection.polygon) {
        region_.extend(Vec3(corner.x(), corner.y(), 0));
      }
      double low = HUGE_VAL, high = -HUGE_VAL;
      for (const Vec3& vertex : mesh.vertices) {
        const double z = (selection.frame_from_world * vertex).z();
        low = std::min(low, z);
        high = std::max(high, z);
      }
      region_.min().z() = low;
      region_.max().z() = high;
    } else if (selection.inside) {
      region_ = Box((*selection.inside)[0], (*selection.inside)[1]);
    }
  }

  /// The part of the scene's space in which the selection lies.
  [[nodiscard]] Box box_in_world() const {
    Box box;
    if (region_.isEmpty()) {
      for (const Vec3& vertex : mesh_.vertices) box.extend(vertex);
      return box;
    }
    const Pose world_from_frame = selection_.frame_from_world.inverse();
    for (int i = 0; i < 8; ++i)
      box.extend(world_from_frame * region_.corner(static_cast<Box::CornerType>(i)));
    // A turn rounds.
    const double slack = tolerance::kGridSnap;
    return Box(box.min() - Vec3::Constant(slack), box.max() + Vec3::Constant(slack));
  }

  /// The triangle where it may have selected places.
  [[nodiscard]] std::optional<Facet> facet(std::size_t triangle) const {
    if (!selection_.faces.empty()) {
      const bool is_face =
          triangle < mesh_.face_of_triangle.size() &&
          std::binary_search(faces_.begin(), faces_.end(), mesh_.face_of_triangle[triangle]);
      if (!is_face) return std::nullopt;
    }
    auto facet = facet_of(mesh_.corners(triangle));
    if (!facet || selection_.polygon.empty()) return facet;
    const Vec3 normal = selection_.frame_from_world.linear() * facet->normal;
    return normal.z() >= kUpCosine ? facet : std::nullopt;
  }

  [[nodiscard]] bool has(const Vec3& at) const {
    if (!selection_.faces.empty()) return true;
    const Vec3 p = selection_.frame_from_world * at;
    if (selection_.inside) return region_.contains(p);
    return (p.head<2>().array() >= region_.min().head<2>().array()).all() &&
           (p.head<2>().array() <= region_.max().head<2>().array()).all() &&
           is_in_polygon(selection_.polygon, p.head<2>());
  }

 private:
  const Mesh& mesh_;
  const SurfaceSelection& selection_;
  std::vector<std::uint32_t> faces_;  ///< of the selection, ascending
  Box region_;                        ///< in the selection's frame; empty where it is by faces
};

/// Numbered lines along the axes; the first of each kind half a step inside the box.
class Lines {
 public:
  Lines(const Box& box, double step) : box_(box), step_(step) {}

  struct Span {
    long first = 0, last = -1;
    [[nodiscard]] double count() const {
      return std::max(0.0, static_cast<double>(last - first + 1));
    }
  };
  [[nodiscard]] Span across(const Facet& facet, Eigen::Index axis) const {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (const Vec3& corner : facet.corners) {
      low = std::min(low, corner[axis]);
      high = std::max(high, corner[axis]);
    }
    low = std::max(low, box_.min()[axis]);
    high = std::min(high, box_.max()[axis]);
    const double first = std::ceil((low - box_.min()[axis]) / step_ - 0.5);
    const double last = std::floor((high - box_.min()[axis]) / step_ - 0.5);
    if (!(first <= last)) return {};
    return {static_cast<long>(first), static_cast<long>(last)};
  }
  [[nodiscard]] double at(long number, Eigen::Index axis) const {
    return box_.min()[axis] + (static_cast<double>(number) + 0.5) * step_;
  }

 private:
  Box box_;
  double step_;
};

Eigen::Index dominant_axis(const Vec3& normal) {
  Eigen::Index axis = 2;
  for (const Eigen::Index other : {Eigen::Index{1}, Eigen::Index{0}})
    if (std::abs(normal[other]) > std::abs(normal[axis])) axis = other;
  return axis;
}

/// Rounded to what differs between two triangulations of one flat face.
double snapped(double mm) {
  return std::round(mm / tolerance::kSurfaceSnap) * tolerance::kSurfaceSnap;
}

void meet(const Facet& facet, const Lines& lines, const Selector& selector,
          std::vector<PointFeature>& places) {
  const Eigen::Index axis = dominant_axis(facet.normal);
  const Eigen::Index u = (axis + 1) % 3, v = (axis + 2) % 3;
  const Lines::Span us = lines.across(facet, u), vs = lines.across(facet, v);
  for (long i = us.first; i <= us.last; ++i) {
    for (long j = vs.first; j <= vs.last; ++j) {
      const Vec2 p(lines.at(i, u), lines.at(j, v));
      if (!is_inside(facet, u, v, p)) continue;
      const Vec3& corner = facet.corners[0];
      Vec3 at;
      at[u] = p.x();
      at[v] = p.y();
      at[axis] = snapped(corner[axis] - (facet.normal[u] * (p.x() - corner[u]) +
                                         facet.normal[v] * (p.y() - corner[v])) /
                                            facet.normal[axis]);
      if (selector.has(at)) places.push_back({at, facet.normal});
    }
  }
}

/// The selected triangles, and the box in which lines are laid over them.
struct Selected {
  std::vector<Facet> facets;
  Box box;
};
Selected selected_of(const Mesh& mesh, const Selector& selector) {
  Selected selected;
  const Box all = selector.box_in_world();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto facet = selector.facet(t);
    if (!facet) continue;
    Box own;
    for (const Vec3& corner : facet->corners) own.extend(corner);
    if (!all.intersects(own)) continue;
    selected.box.extend(all.intersection(own));
    selected.facets.push_back(*facet);
  }
  return selected;
}

}  // namespace

double size_of(const Mesh& mesh, const SurfaceSelection& selection) {
  const Selected selected = selected_of(mesh, Selector(mesh, selection));
  return selected.facets.empty() ? 0 : selected.box.diagonal().norm();
}

SurfacePlaces surface_places(const Mesh& mesh, const SurfaceSelection& selection, double step,
                             std::size_t most) {
  SurfacePlaces found;
  const Selector selector(mesh, selection);
  const Selected selected = selected_of(mesh, selector);
  const Lines lines(selected.box, step);
  double tries = 0;
  for (const Facet& facet : selected.facets) {
    const Eigen::Index axis = dominant_axis(facet.normal);
    tries +=
        lines.across(facet, (axis + 1) % 3).count() * lines.across(facet, (axis + 2) % 3).count();
  }
  found.is_too_many = tries > kMostTries * static_cast<double>(most);
  for (const Facet& facet : selected.facets) {
    if (found.is_too_many) return found;
    meet(facet, lines, selector, found.places);
    found.is_too_many = found.places.size() > most;
  }
  std::sort(found.places.begin(), found.places.end(),
            [](const PointFeature& a, const PointFeature& b) {
              return a.at != b.at ? is_less(a.at, b.at) : is_less(a.normal, b.normal);
            });
  return found;
}

}  // namespace standpoint
