#include "planner/reach/feature_reach.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <utility>

#include "planner/model/tolerances.h"
#include "planner/reach/element.h"
#include "planner/reach/first_taker.h"
#include "planner/reach/split.h"
#include "planner/reach/touch_mark.h"

namespace standpoint {
namespace {

/// A hole adapter is for holes: nobody tries it on anything else, unless the scene names it there.
std::vector<TargetId> allowed_targets(const Scene& scene, const Feature& feature,
                                      const std::vector<TargetId>& at_hand) {
  const bool is_hole = std::holds_alternative<HoleFeature>(feature.shape);
  std::vector<TargetId> allowed;
  std::copy_if(at_hand.begin(), at_hand.end(), std::back_inserter(allowed), [&](TargetId target) {
    if (feature.targets.empty()) return is_hole || hole_adapter(scene, target) == nullptr;
    return std::find(feature.targets.begin(), feature.targets.end(), target) !=
           feature.targets.end();
  });
  return allowed;
}

/// Touches whose sets are remembered: the bits of a key.
constexpr std::size_t kRemembered = 64;

bool is_same_touch(const TouchSet& a, const TouchSet& b, std::size_t touch) {
  return a.way == b.way && touch < a.touches.size() && touch < b.touches.size() &&
         a.touches[touch].at == b.touches[touch].at;
}

/// A target that can take the feature no way at all, told at one of its touches.
Cause unfit(const Scene& scene, TargetId target, const Touch& touch, const Stance& station) {
  Cause cause = plain_cause(target, Rule::no_fit, station.at, touch.at);
  const HoleAdapter* adapter = hole_adapter(scene, target);
  const double height = adapter != nullptr ? adapter->height : touching_radius(scene, target);
  cause.optical_centre = touch.at + height * touch.normal;
  return cause;
}

bool are_alike_margins(double a, double b) {
  return a == b ||  // both may be infinite
         std::abs(a - b) <= tolerance::kSameMargin;
}

bool is_reached(const Outcome& outcome) {
  return std::holds_alternative<Reached>(outcome);
}

}  // namespace

FeatureReach::FeatureReach(const Cell& cell, FeatureId feature)
    : FeatureReach(cell, feature, all_targets(cell.scene())) {}

FeatureReach::FeatureReach(const Cell& cell, FeatureId feature,
                           const std::vector<TargetId>& at_hand)
    : cell_(&cell),
      feature_(feature),
      targets_(allowed_targets(cell.scene(), cell.scene().features[feature.index], at_hand)) {
  const Scene& scene = cell.scene();
  for (const TargetId target : targets_) {
    for (TouchSet& set : touch_sets(scene, scene.features[feature.index], target)) {
      ProbingMethod method{target, std::move(set), {}};
      for (const Touch& touch : method.set.touches) {
        method.at.push_back(make_target_at(cell, target, place_of(touch)));
      }
      methods_.push_back(std::move(method));
    }
  }
}

bool FeatureReach::is_enough(ProbingMethod& method, const std::vector<bool>& reached) {
  const Feature& feature = cell_->scene().features[feature_.index];
  if (reached.size() > kRemembered) return standpoint::is_enough(feature, method.set, reached);
  std::uint64_t key = 0;
  for (std::size_t i = 0; i < reached.size(); ++i) key |= std::uint64_t{reached[i]} << i;
  const auto [known, is_new] = method.enough.try_emplace(key, false);
  if (is_new) known->second = standpoint::is_enough(feature, method.set, reached);
  return known->second;
}

const Feature& FeatureReach::feature() const {
  return cell_->scene().features[feature_.index];
}

namespace {

/// What is known so far of the touches that one station reaches.
struct Progress {
  std::size_t station = 0;
  std::vector<bool> reached, possible;
  std::ptrdiff_t reached_count = 0, possible_count = 0;
  bool is_hopeless = false;  ///< it does not take the feature, and is asked for what it reaches
};

}  // namespace

/// Touch by touch, each from all stations that are still open. A station is done as soon as the
/// touches left cannot change its answer: more touches never make what is enough too few.
std::vector<bool> FeatureReach::takes_from(ProbingMethod& method, std::span<const Stance> stations,
                                           std::vector<std::vector<bool>>* all_reached) {
  const std::size_t touches = method.at.size();
  const std::ptrdiff_t needed = feature().enough_touches && !takes_whole_hole(method.set.way)
                                    ? *feature().enough_touches
                                    : least_touches(feature(), method.set.way);
  std::vector<bool> takes(stations.size(), false);
  const auto count = static_cast<std::ptrdiff_t>(touches);
  if (all_reached != nullptr) all_reached->assign(stations.size(), {});
  if (count < needed) return takes;
  if (touches == 1 && is_enough(method, {true})) return reaches_from(method.at.front(), stations);
  // Beyond what is remembered, asking whether touches are enough costs more than it saves.
  const bool is_cheap = touches <= kRemembered;
  std::vector<Progress> open;
  open.reserve(stations.size());
  for (std::size_t i = 0; i < stations.size(); ++i) {
    open.push_back(
        {i, std::vector<bool>(touches), std::vector<bool>(touches, true), 0, count, false});
  }
  for (std::size_t touch = 0; touch < touches && !open.empty(); ++touch) {
    std::vector<Stance> asked;
    asked.reserve(open.size());
    for (const Progress& progress : open) asked.push_back(stations[progress.station]);
    const std::vector<bool> reached = reaches_from(method.at[touch], asked);
    const auto is_done = [&](Progress& progress, bool is_reached) {
      if (is_reached) {
        progress.reached[touch] = true;
        ++progress.reached_count;
        if (progress.is_hopeless) return false;
        if (!is_cheap || progress.reached_count < needed) return false;
        takes[progress.station] = is_enough(method, progress.reached);
        return static_cast<bool>(takes[progress.station]);
      }
      progress.possible[touch] = false;
      --progress.possible_count;
      progress.is_hopeless = progress.is_hopeless || progress.possible_count < needed ||
                             (is_cheap && !is_enough(method, progress.possible));
      return progress.is_hopeless && all_reached == nullptr;
    };
    std::vector<Progress> left;
    for (std::size_t k = 0; k < open.size(); ++k) {
      if (!is_done(open[k], reached[k])) left.push_back(std::move(open[k]));
    }
    open = std::move(left);
  }
  for (Progress& progress : open) {
    takes[progress.station] = !progress.is_hopeless && is_enough(method, progress.reached);
    if (all_reached != nullptr && !takes[progress.station] && progress.reached_count > 0)
      (*all_reached)[progress.station] = std::move(progress.reached);
  }
  return takes;
}

std::vector<std::optional<TargetId>> FeatureReach::takers(std::span<const Stance> stations) {
  std::vector<std::optional<TargetId>> takers;
  takers.reserve(stations.size());
  const auto takes = [&](std::size_t t, std::span<const Stance> asked) {
    return takes_from(methods_[t], asked);
  };
  for (const auto& first : first_takers(stations, methods_.size(), takes))
    takers.push_back(first ? std::optional(methods_[*first].target) : std::nullopt);
  return takers;
}

std::vector<Verdict> FeatureReach::verdicts(std::span<const Stance> stations) {
  // Targets are in order, full ones first: the first that takes the feature decides.
  std::vector<Verdict> verdicts;
  verdicts.reserve(stations.size());
  for (const std::optional<TargetId> taker : takers(stations))
    verdicts.push_back(taker ? verdict_by(cell_->scene(), *taker) : Verdict::blocked);
  return verdicts;
}

/// Only what takes the feature is measured, and of each target its first way that does.
MarkSummary FeatureReach::summary(const Stance& station) {
  std::vector<MarkSummary> takers;  // of the best verdict
  for (ProbingMethod& method : methods_) {
    const Verdict verdict = verdict_by(cell_->scene(), method.target);
    if (!takers.empty() && takers.back().verdict != verdict) break;
    const bool is_next_way = !takers.empty() && takers.back().target == method.target;
    if (is_next_way || !takes_from(method, {&station, 1}).front()) continue;
    std::optional<double> margin;
    for (TargetAt& target : method.at) {
      if (const auto one = margin_if_reached(target, station))
        margin = std::min(margin.value_or(*one), *one);
    }
    takers.push_back({verdict, method.target, margin});
  }
  if (takers.empty()) return {};
  const auto best =
      std::max_element(takers.begin(), takers.end(),
                       [](const auto& a, const auto& b) { return *a.margin < *b.margin; });
  return *std::find_if(takers.begin(), takers.end(), [&](const MarkSummary& taker) {
    return are_alike_margins(*taker.margin, *best->margin);
  });
}

FeatureReach::Attempt FeatureReach::attempt(ProbingMethod& method, const Stance& station,
                                            Causes causes) {
  Attempt result{&method, {}, false, 0, std::nullopt};
  std::vector<bool> reached;
  for (TargetAt& target : method.at) {
    result.outcomes.push_back(look(target, station, causes));
    const auto* reach = std::get_if<Reached>(&result.outcomes.back());
    reached.push_back(reach != nullptr);
    if (reach == nullptr) continue;
    ++result.reached;
    result.margin = std::min(result.margin.value_or(reach->margin), reach->margin);
  }
  result.is_enough = is_enough(method, reached);
  return result;
}

/// For each allowed target that can take the feature at all, its best way from here: the first that
/// is enough, else the one that reaches most touches. Styli are left untried, with their first way,
/// when a full target is enough.
std::vector<FeatureReach::Attempt> FeatureReach::best_attempts(const Stance& station,
                                                               Causes causes) {
  std::vector<Attempt> attempts;
  bool is_full_enough = false;
  for (ProbingMethod& method : methods_) {
    const bool is_full = is_full_target(cell_->scene(), method.target);
    const bool is_next_way = !attempts.empty() && attempts.back().method->target == method.target;
    if (!is_full && is_full_enough) {
      if (!is_next_way) attempts.push_back({&method, {}, false, 0, std::nullopt});
      continue;
    }
    if (is_next_way && attempts.back().is_enough) continue;
    Attempt now = attempt(method, station, causes);
    is_full_enough = is_full_enough || (is_full && now.is_enough);
    if (!is_next_way) {
      attempts.push_back(std::move(now));
    } else if (now.is_enough || now.reached > attempts.back().reached) {
      attempts.back() = std::move(now);
    }
  }
  return attempts;
}

bool FeatureReach::is_ahead(const Attempt& a, const Attempt& b) const {
  if (a.is_enough != b.is_enough) return a.is_enough;
  if (!a.is_enough) return a.reached > b.reached;
  const bool a_full = is_full_target(cell_->scene(), a.method->target);
  const bool b_full = is_full_target(cell_->scene(), b.method->target);
  return a_full != b_full ? a_full : *a.margin > *b.margin;
}

/// Whether both are enough and neither is better.
bool FeatureReach::are_alike(const Attempt& a, const Attempt& b) const {
  if (!a.is_enough || !b.is_enough) return false;
  const Scene& scene = cell_->scene();
  if (is_full_target(scene, a.method->target) != is_full_target(scene, b.method->target))
    return false;
  return are_alike_margins(*a.margin, *b.margin);
}

/// What every allowed target makes of one touch of `shown`; of the styli nothing where a full
/// target reaches it.
std::vector<Outcome> FeatureReach::outcomes_at(const std::vector<Attempt>& attempts,
                                               const Attempt& shown, std::size_t touch,
                                               const Stance& station, Causes causes) {
  std::vector<Outcome> outcomes;
  for (const TargetId target : targets_) {
    if (!is_full_target(cell_->scene(), target) && is_any_full(cell_->scene(), outcomes)) break;
    const auto tried = std::find_if(attempts.begin(), attempts.end(),
                                    [&](const Attempt& t) { return t.method->target == target; });
    if (tried == attempts.end()) {
      outcomes.emplace_back(
          unfit(cell_->scene(), target, shown.method->set.touches[touch], station));
    } else if (is_same_touch(tried->method->set, shown.method->set, touch)) {
      outcomes.push_back(tried->outcomes.empty() ? look(tried->method->at[touch], station, causes)
                                                 : tried->outcomes[touch]);
    } else {
      // It takes the feature another way: tell the first thing that fails there.
      const auto failed =
          std::find_if_not(tried->outcomes.begin(), tried->outcomes.end(), is_reached);
      if (failed != tried->outcomes.end()) outcomes.push_back(*failed);
    }
  }
  return outcomes;
}

FeatureMark FeatureReach::mark(const Stance& station, Causes causes,
                               std::optional<TargetId> preferred) {
  const Scene& scene = cell_->scene();
  const std::vector<Attempt> attempts = best_attempts(station, causes);
  if (attempts.empty()) return mark_untakable(station, causes);
  const Attempt* shown = &attempts.front();
  for (const Attempt& other : attempts) {
    if (is_ahead(other, *shown)) shown = &other;
  }
  // Of targets that do not differ the preferred one, else the first, whatever the last bit says.
  const Attempt* ahead = shown;
  const auto is_one = [&](const Attempt& a) { return &a == ahead || are_alike(a, *ahead); };
  shown = &*std::find_if(attempts.begin(), attempts.end(), is_one);
  for (const Attempt& other : attempts)
    if (other.method->target == preferred && is_one(other)) shown = &other;
  FeatureMark mark;
  mark.feature = feature_;
  for (const Attempt& other : attempts)
    if (&other != shown && is_one(other)) mark.alike.push_back(other.method->target);
  mark.way = shown->method->set.way;
  for (std::size_t i = 0; i < shown->outcomes.size(); ++i) {
    const Touch& touch = shown->method->set.touches[i];
    mark.touches.push_back(
        judge_touch(scene, touch, outcomes_at(attempts, *shown, i, station, causes), causes));
    const auto* reached = std::get_if<Reached>(&shown->outcomes[i]);
    mark.by_target.push_back(reached ? std::optional(*reached) : std::nullopt);
  }
  if (shown->is_enough) {
    mark.verdict = verdict_by(scene, shown->method->target);
    mark.target = shown->method->target;
    mark.margin = shown->margin;
    return mark;
  }
  if (is_split_allowed(scene, feature())) add_parts(attempts, causes, mark);
  for (const TouchMark& touch : mark.touches) {
    if (touch.verdict == Verdict::blocked && touch.margin) {
      mark.margin = std::max(mark.margin.value_or(*touch.margin), *touch.margin);
    }
  }
  return mark;
}

/// No target can take it any way: every touch is told as not fitting, where it would be.
FeatureMark FeatureReach::mark_untakable(const Stance& station, Causes causes) const {
  const auto* hole = std::get_if<HoleFeature>(&feature().shape);
  const TouchSet nominal = hole ? TouchSet{Way::rim, {{hole->centre, hole->axis, hole->centre}}}
                                : touch_sets(feature(), 0, cell_->scene().rules).front();
  FeatureMark mark;
  mark.feature = feature_;
  mark.way = nominal.way;
  for (const Touch& touch : nominal.touches) {
    std::vector<Outcome> outcomes;
    for (const TargetId target : targets_) {
      outcomes.emplace_back(unfit(cell_->scene(), target, touch, station));
    }
    mark.touches.push_back(judge_touch(cell_->scene(), touch, outcomes, causes));
    mark.by_target.emplace_back();
  }
  return mark;
}

}  // namespace standpoint
