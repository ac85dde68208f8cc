#include "planner/reach/shadow.h"

#include <algorithm>

#include "geometry/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kMostKnown = 8;

}  // namespace

Shadow::Shadow(const std::array<Vec3, 3>& triangle, const Vec3& station) : station_(station) {
  const Vec3 a = triangle[0] - station, b = triangle[1] - station, c = triangle[2] - station;
  const Vec3 normal = (b - a).cross(c - a);
  // Turned so that the triangle is beyond its own plane, and the sides' planes look inwards.
  const double side = normal.dot(a) < 0 ? -1 : 1;
  const double slack = tolerance::kWholePatchSlack;
  const auto plane_of = [&](const Vec3& n) {
    const double length = n.norm();
    // Without direction (a needle, a station in the triangle's plane): hides nothing.
    return length > 0 ? Plane{n / length, slack} : Plane{Vec3::Zero(), slack};
  };
  planes_ = {plane_of(side * a.cross(b)), plane_of(side * b.cross(c)), plane_of(side * c.cross(a)),
             plane_of(side * normal)};
  planes_[3].least += planes_[3].inwards.dot(a);
}

bool Shadow::holds(const BeamBundle& bundle) const {
  return std::all_of(planes_.begin(), planes_.end(), [&](const Plane& plane) {
    return std::all_of(bundle.hull.begin(), bundle.hull.end(), [&](const Vec3& point) {
      return plane.inwards.dot(point - station_) >= plane.least;
    });
  });
}

bool ShadowSearch::is_known_to_hide(const BeamBundle& bundle) {
  const auto known = std::find_if(known_.rbegin(), known_.rend(),
                                  [&](const Shadow& shadow) { return shadow.holds(bundle); });
  if (known == known_.rend()) return false;
  std::rotate(known_.rbegin(), known, known + 1);
  return true;
}

bool ShadowSearch::finds_one_hiding(const BeamBundle& bundle) {
  bool is_hidden = false;
  const auto axis = RoundCone::capsule(station_, bundle.middle, tolerance::kWholePatchSlack);
  tree_->for_each_within(axis, 0, [&](const Contact& contact) {
    if (is_hidden) return;
    const Shadow shadow(tree_->corners(contact.body, contact.triangle), station_);
    if (!shadow.holds(bundle)) return;
    is_hidden = true;
    if (known_.size() == kMostKnown) known_.erase(known_.begin());
    known_.push_back(shadow);
  });
  return is_hidden;
}

}  // namespace standpoint
