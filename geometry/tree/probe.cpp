#include "geometry/tree/probe.h"

#include <algorithm>
#include <cmath>

#include "geometry/tolerances.h"

namespace standpoint::tree {
namespace {

/// Two unit vectors square to the unit vector n and to each other, without a branch or a root:
/// Duff et al., "Building an Orthonormal Basis, Revisited", JCGT 6(1), 2017, listing 3.
void span_across(const Vec3& n, Vec3& first, Vec3& second) {
  const double sign = std::copysign(1.0, n.z());
  const double a = -1 / (sign + n.z());
  const double b = n.x() * n.y() * a;
  first = {1 + sign * n.x() * n.x() * a, sign * b, -sign * n.x()};
  second = {b, sign + n.y() * n.y() * a, -n.y()};
}

}  // namespace

Probe make_probe(const Layout& layout, const RoundCone& cone, bool from_end) {
  Probe probe;
  const Vec3 first = cone.start - layout.origin, last = cone.end - layout.origin;
  const Vec3& start = from_end ? last : first;
  const Vec3 along = from_end ? Vec3(first - last) : Vec3(last - first);
  const double start_radius = from_end ? cone.end_radius : cone.start_radius;
  const double end_radius = from_end ? cone.start_radius : cone.end_radius;
  const double length = along.norm();
  Vec3 rows[3];
  rows[2] = length > 0 ? Vec3(along / length) : Vec3(Vec3::UnitZ());
  span_across(rows[2], rows[0], rows[1]);
  for (int i = 0; i < 3; ++i) {
    // A direction component of nothing would give 0 * inf: the least one moves the axis by less
    // than 1e-12 mm.
    constexpr double kLeast = 1e-18;
    const double d = std::abs(rows[2][i]) < kLeast ? std::copysign(kLeast, rows[2][i]) : rows[2][i];
    probe.start[i] = static_cast<float>(start[i]);
    probe.inverse[i] = 1 / static_cast<float>(d);
    probe.is_negative[i] = d < 0;
    for (int axis = 0; axis < 3; ++axis) probe.frame[i][axis] = static_cast<float>(rows[i][axis]);
    probe.offset[i] = static_cast<float>(-rows[i].dot(start));
  }
  const double slope = length > 0 ? (end_radius - start_radius) / length : 0.0;
  const double reach =
      layout.half_extent + std::max(first.cwiseAbs().maxCoeff(), last.cwiseAbs().maxCoeff());
  probe.length = static_cast<float>(length);
  probe.start_radius = static_cast<float>(start_radius);
  probe.end_radius = static_cast<float>(end_radius);
  probe.slope = static_cast<float>(slope);
  probe.cosine = static_cast<float>(std::sqrt(std::max(0.0, 1 - slope * slope)) * (1 - 1e-6));
  probe.least_radius = static_cast<float>(std::min(start_radius, end_radius));
  probe.greatest_radius = static_cast<float>(std::max(start_radius, end_radius));
  probe.slack =
      static_cast<float>(tolerance::culling_slack(reach + std::max(start_radius, end_radius)));
  return probe;
}

}  // namespace standpoint::tree
