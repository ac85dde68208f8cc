#pragma once

#include "geometry/trigonometry.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// The angle between two non-zero vectors, rad, 0..pi. Accurate near 0 and pi (atan2 of cross and
/// dot; derived here). Two zero vectors give 0.
[[nodiscard]] inline double angle_between(const Vec3& a, const Vec3& b) {
  return arc_tangent(a.cross(b).norm(), a.dot(b));
}

/// A unit vector square to the unit vector `axis`: the coordinate axis least aligned with it,
/// projected. The same `axis` always gives the same answer.
[[nodiscard]] inline Vec3 any_perpendicular(const Vec3& axis) {
  Eigen::Index least = 0;
  axis.cwiseAbs().minCoeff(&least);
  return axis.cross(Vec3::Unit(least)).normalized();
}

}  // namespace standpoint
