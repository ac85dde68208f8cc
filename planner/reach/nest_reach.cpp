#include "planner/reach/nest_reach.h"

#include "planner/reach/first_taker.h"
#include "planner/reach/touch_mark.h"

namespace standpoint {

NestReach::NestReach(const Cell& cell, const Nest& nest) : cell_(&cell), nest_(&nest) {
  for (std::size_t i = 0; i < target_count(cell.scene()); ++i) {
    targets_.push_back(make_target_at(cell, TargetId(i), place_of(nest)));
  }
}

std::vector<Verdict> NestReach::verdicts(std::span<const Vec3> stations) {
  // Targets are in order, full ones first: the first that reaches decides.
  return verdicts_by_first(
      stations, targets_.size(),
      [&](std::size_t t, std::span<const Vec3> asked) { return reaches_from(targets_[t], asked); },
      [&](std::size_t t) { return verdict_by(cell_->scene(), TargetId(t)); });
}

TouchMark NestReach::mark(const Vec3& station) {
  std::vector<Outcome> outcomes;
  for (std::size_t i = 0; i < targets_.size(); ++i) {
    if (!is_full_target(cell_->scene(), TargetId(i)) && is_any_full(cell_->scene(), outcomes)) {
      break;
    }
    outcomes.push_back(look(targets_[i], station));
  }
  return mark_touch(cell_->scene(), nest_->at, nest_->normal, outcomes);
}

}  // namespace standpoint
