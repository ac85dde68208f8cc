#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"

namespace standpoint {
namespace {

/// Up to five corners: what a slab between two heights leaves of a triangle.
struct Polygon {
  std::array<Vec3, 5> corner;
  int size = 0;
};

/// The part of `polygon` on the side of the plane z = height where sign * (z - height) >= 0.
Polygon clip(const Polygon& polygon, double height, double sign) {
  Polygon kept;
  for (int i = 0; i < polygon.size; ++i) {
    const Vec3& a = polygon.corner[i];
    const Vec3& b = polygon.corner[(i + 1) % polygon.size];
    const double da = sign * (a.z() - height);
    const double db = sign * (b.z() - height);
    if (da >= 0) kept.corner[kept.size++] = a;
    if ((da < 0) != (db < 0)) kept.corner[kept.size++] = a + (b - a) * (da / (da - db));
  }
  return kept;
}

double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
  const Vec2 e = b - a;
  const double e2 = e.squaredNorm();
  const double s = e2 > 0 ? std::clamp((p - a).dot(e) / e2, 0.0, 1.0) : 0.0;
  return (a + s * e - p).norm();
}

/// Distance, seen from above, from a point to a convex polygon; 0 inside.
double distance_from_above(const Vec2& p, const Polygon& polygon) {
  double least = std::numeric_limits<double>::infinity();
  bool any_left = false, any_right = false;
  for (int i = 0; i < polygon.size; ++i) {
    const Vec2 a = polygon.corner[i].head<2>();
    const Vec2 b = polygon.corner[(i + 1) % polygon.size].head<2>();
    least = std::min(least, distance_to_segment(p, a, b));
    const Vec2 e = b - a, r = p - a;
    const double turn = e.x() * r.y() - e.y() * r.x();
    any_left |= turn > 0;
    any_right |= turn < 0;
  }
  const bool is_inside = polygon.size >= 3 && any_left != any_right;
  return is_inside ? 0 : least;
}

}  // namespace

bool Tree::is_cut_by(const UprightCylinder& cylinder) const {
  return first_cut_by(cylinder).has_value();
}

std::optional<BodyId> Tree::first_cut_by(const UprightCylinder& cylinder) const {
  // The capsule of the same radius holds the cylinder: it finds the triangles worth a look.
  const Vec3 top = cylinder.centre + cylinder.above * Vec3::UnitZ();
  const Vec3 bottom = cylinder.centre - cylinder.below * Vec3::UnitZ();
  std::optional<BodyId> first;
  for_each_within(
      RoundCone::capsule(bottom, top, cylinder.radius), 1e-3, [&](const Contact& contact) {
        if (first && *first <= contact.body) return;
        const auto corners = this->corners(contact.body, contact.triangle);
        double reach = std::max(top.cwiseAbs().maxCoeff(), bottom.cwiseAbs().maxCoeff());
        for (const Vec3& corner : corners) reach = std::max(reach, corner.cwiseAbs().maxCoeff());
        // A cylinder without size is missed by a rounding, otherwise.
        const double error = tolerance::margin_error(reach);
        const Polygon triangle{{corners[0], corners[1], corners[2]}, 3};
        const Polygon slab = clip(clip(triangle, bottom.z() - error, 1), top.z() + error, -1);
        if (slab.size == 0) return;
        if (distance_from_above(cylinder.centre.head<2>(), slab) <= cylinder.radius + error)
          first = contact.body;
      });
  return first;
}

}  // namespace standpoint
