#include "planner/reach/nest_reach.h"

#include "planner/reach/first_taker.h"
#include "planner/reach/touch_mark.h"

namespace standpoint {

NestReach::NestReach(const Cell& cell, const Nest& nest)
    : NestReach(cell, nest, all_targets(cell.scene())) {}

NestReach::NestReach(const Cell& cell, const Nest& nest, const std::vector<TargetId>& at_hand)
    : cell_(&cell), nest_(&nest) {
  for (const TargetId target : at_hand)
    if (hole_adapter(cell.scene(), target) == nullptr)  // it sits in holes
      targets_.push_back({target, make_target_at(cell, target, place_of(nest))});
}

std::vector<Verdict> NestReach::verdicts(std::span<const Stance> stations) {
  // Targets are in order, full ones first: the first that reaches decides.
  std::vector<Verdict> verdicts;
  verdicts.reserve(stations.size());
  const auto reaches = [&](std::size_t t, std::span<const Stance> asked) {
    return reaches_from(targets_[t].at, asked);
  };
  for (const auto& first : first_takers(stations, targets_.size(), reaches))
    verdicts.push_back(first ? verdict_by(cell_->scene(), targets_[*first].target)
                             : Verdict::blocked);
  return verdicts;
}

MarkSummary NestReach::summary(const Stance& station) {
  MarkSummary best;
  for (Seated& seated : targets_) {
    const Verdict verdict = verdict_by(cell_->scene(), seated.target);
    if (best.verdict == Verdict::full_target && verdict != Verdict::full_target) break;
    const std::optional<double> margin = margin_if_reached(seated.at, station);
    if (margin && (!best.target || *margin > *best.margin)) best = {verdict, seated.target, margin};
  }
  return best;
}

TouchMark NestReach::mark(const Stance& station, Causes causes) {
  std::vector<Outcome> outcomes;
  for (Seated& seated : targets_) {
    if (!is_full_target(cell_->scene(), seated.target) && is_any_full(cell_->scene(), outcomes)) {
      break;
    }
    outcomes.push_back(look(seated.at, station, causes));
  }
  return judge_touch(cell_->scene(), {nest_->at, nest_->normal, nest_->at}, outcomes, causes);
}

}  // namespace standpoint
