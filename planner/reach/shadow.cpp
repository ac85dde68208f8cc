#include "planner/reach/shadow.h"

#include <algorithm>

#include "geometry/tolerances.h"

namespace standpoint {

bool stands_in_all(const std::array<Vec3, 3>& triangle, const BeamBundle& bundle, double radius) {
  return std::all_of(bundle.hull.begin(), bundle.hull.end(), [&](const Vec3& end) {
    const auto axis = RoundCone::capsule(bundle.station, end, radius);
    return nearest_on_triangle(axis, triangle).margin < -tolerance::kWholePatchSlack;
  });
}

bool Shadows::is_known_to_hide(const BeamBundle& bundle) {
  for (std::size_t k = 0; k < known_count_; ++k) {
    if (!stands_in_all(known_[k], bundle, radius_)) continue;
    std::rotate(known_.begin(), known_.begin() + static_cast<std::ptrdiff_t>(k),
                known_.begin() + static_cast<std::ptrdiff_t>(k) + 1);
    return true;
  }
  return false;
}

bool Shadows::finds_one_hiding(const BeamBundle& bundle) {
  bool is_hidden = false;
  const auto axis = RoundCone::capsule(bundle.station, bundle.middle, radius_);
  tree_->for_each_within(axis, -tolerance::kWholePatchSlack, [&](const Contact& contact) {
    if (is_hidden) return;
    const Triangle triangle = tree_->corners(contact.body, contact.triangle);
    if (!stands_in_all(triangle, bundle, radius_)) return;
    is_hidden = true;
    remember(triangle);
  });
  return is_hidden;
}

void Shadows::remember(const Triangle& triangle) {
  known_count_ = std::min(known_count_ + 1, known_.size());
  std::rotate(known_.begin(), known_.begin() + static_cast<std::ptrdiff_t>(known_count_) - 1,
              known_.begin() + static_cast<std::ptrdiff_t>(known_count_));
  known_.front() = triangle;
}

}  // namespace standpoint
