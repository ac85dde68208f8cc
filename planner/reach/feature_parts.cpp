// What of a feature several stations may take together: the parts of FeatureReach (contract section
// 9, "Split").

#include <algorithm>
#include <numeric>
#include <utility>

#include "planner/reach/feature_reach.h"
#include "planner/reach/first_taker.h"
#include "planner/reach/split.h"
#include "planner/reach/touch_mark.h"

namespace standpoint {

FeatureReach::TakersAndParts FeatureReach::takers_and_parts(std::span<const Stance> stations) {
  TakersAndParts result{std::vector<std::optional<TargetId>>(stations.size()), {}};
  std::vector<std::size_t> open(stations.size());
  std::iota(open.begin(), open.end(), std::size_t{0});
  for (ProbingMethod& method : methods_) {
    std::vector<Stance> asked;
    asked.reserve(open.size());
    for (const std::size_t station : open) asked.push_back(stations[station]);
    const bool is_full = is_full_target(cell_->scene(), method.target);
    std::vector<std::vector<bool>> reached;
    const std::vector<bool> takes = takes_from(method, asked, is_full ? &reached : nullptr);
    Part part{method.target, &method.set, std::vector<std::vector<bool>>(stations.size())};
    std::vector<std::size_t> left;
    for (std::size_t k = 0; k < open.size(); ++k) {
      if (takes[k]) {
        result.takers[open[k]] = method.target;
        continue;
      }
      left.push_back(open[k]);
      if (is_full) part.reached[open[k]] = std::move(reached[k]);
    }
    open = std::move(left);
    if (is_full) result.parts.push_back(std::move(part));
  }
  // Who takes it after all, by a later target, needs no help.
  for (std::size_t station = 0; station < stations.size(); ++station) {
    if (!result.takers[station]) continue;
    for (Part& part : result.parts) part.reached[station].clear();
  }
  return result;
}

std::vector<FeatureReach::Part> FeatureReach::stylus_parts(std::span<const Stance> stations) {
  std::vector<Part> parts;
  for (ProbingMethod& method : methods_) {
    if (is_full_target(cell_->scene(), method.target)) continue;
    Part part{method.target, &method.set, {}};
    (void)takes_from(method, stations, &part.reached);
    parts.push_back(std::move(part));
  }
  return parts;
}

std::vector<FeatureReach::PartMargins> FeatureReach::part_margins(const Stance& station) {
  std::vector<PartMargins> parts;
  if (!is_split_allowed(cell_->scene(), feature())) return parts;
  for (ProbingMethod& method : methods_) {
    PartMargins part{method.target, {}};
    bool is_any_reached = false;
    for (TargetAt& target : method.at) {
      part.margins.push_back(margin_if_reached(target, station));
      is_any_reached = is_any_reached || part.margins.back();
    }
    if (is_any_reached) parts.push_back(std::move(part));
  }
  return parts;
}

FeatureMark FeatureReach::mark_of(const std::vector<PartMargins>& parts) const {
  FeatureMark mark;
  mark.feature = feature_;
  for (const PartMargins& part : parts) {
    const auto method =
        std::find_if(methods_.begin(), methods_.end(),
                     [&](const ProbingMethod& one) { return one.target == part.target; });
    if (method == methods_.end() || method->set.touches.size() != part.margins.size()) continue;
    PartMark& as_mark = mark.parts.emplace_back(PartMark{part.target, {}});
    for (std::size_t i = 0; i < part.margins.size(); ++i) {
      TouchMark& touch = as_mark.touches.emplace_back();
      touch.at = method->set.touches[i].at;
      touch.normal = method->set.touches[i].normal;
      touch.optical_centre = method->set.touches[i].optical_centre;
      if (!part.margins[i]) continue;
      touch.verdict = verdict_by(cell_->scene(), part.target);
      touch.margin = part.margins[i];
      touch.best = Reached{part.target, *part.margins[i], std::nullopt, {}, touch.optical_centre};
    }
  }
  return mark;
}

/// What each target that reaches some touches makes of all of them.
void FeatureReach::add_parts(const std::vector<Attempt>& attempts, Causes causes,
                             FeatureMark& mark) const {
  for (const Attempt& attempt : attempts) {
    if (attempt.reached == 0) continue;
    PartMark part{attempt.method->target, {}};
    for (std::size_t i = 0; i < attempt.outcomes.size(); ++i) {
      part.touches.push_back(judge_touch(cell_->scene(), attempt.method->set.touches[i],
                                         {attempt.outcomes[i]}, causes));
    }
    mark.parts.push_back(std::move(part));
  }
}

}  // namespace standpoint
