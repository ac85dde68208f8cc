#include "planner/reach/nest_reach.h"

#include "planner/reach/touch_mark.h"

namespace standpoint {

NestReach::NestReach(const Cell& cell, const Nest& nest) : cell_(&cell), nest_(&nest) {
  for (std::size_t i = 0; i < target_count(cell.scene()); ++i) {
    targets_.push_back(make_target_at(cell, TargetId(i), place_of(nest)));
  }
}

Verdict NestReach::verdict(const Vec3& station) {
  for (std::size_t i = 0; i < targets_.size(); ++i) {
    if (reaches(targets_[i], station)) return verdict_by(cell_->scene(), TargetId(i));
  }
  return Verdict::blocked;
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
