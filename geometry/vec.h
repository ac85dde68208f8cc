#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

#include "geometry/trigonometry.h"

namespace standpoint {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;
using Mat3 = Eigen::Matrix3d;

/// A placement: x_world = pose * x_body, rotation then translation, mm.
using Pose = Eigen::Isometry3d;

/// The closed range of numbers a quantity may take.
struct Interval {
  double low = 0;
  double high = 0;

  [[nodiscard]] constexpr bool contains(double x) const { return low <= x && x <= high; }
};

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
