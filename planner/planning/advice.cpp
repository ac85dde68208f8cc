#include "planner/planning/advice.h"

#include <algorithm>
#include <limits>
#include <utility>

#include <tbb/parallel_for.h>

#include "planner/network/budget.h"
#include "planner/network/plan_network.h"
#include "planner/planning/provisional_plan.h"
#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

constexpr std::size_t kWorst = 3;         ///< told by name; docs/nests.md
constexpr std::size_t kMostStations = 8;  ///< each costs a look at the whole scene

double worst_of(const WhatIf& after) {
  return after.worst ? after.worst->expanded : std::numeric_limits<double>::infinity();
}

/// The nest's observations from all stations of a plan; the next nest of the network.
Addition addition_of(const Cell& cell, const Plan& plan, const PlanNetwork& network,
                     const NestSite& site) {
  const Scene& scene = cell.scene();
  Addition addition;
  addition.nests.push_back(site.at);
  NestReach reach(cell, site);
  for (std::uint32_t s = 0; s < plan.stations.size(); ++s) {
    const TouchMark mark = reach.mark(stance_of(plan.stations[s]));
    if (!mark.best) continue;
    const Reading reading = reading_of(scene, *mark.best, site.at);
    const Mat3 own = reading_covariance(scene.instrument.error, plan.stations[s].at, reading);
    addition.observations.push_back({s, static_cast<std::uint32_t>(network.input.nests.size()),
                                     with_repeatability(own, scene.environment)});
  }
  return addition;
}

void try_nests(const Cell& cell, const Plan& plan, const PlanNetwork& network,
               const std::vector<NestSite>& sites, Advice& advice) {
  std::vector<Addition> additions(sites.size());
  tbb::parallel_for(std::size_t{0}, sites.size(), [&](std::size_t i) {
    additions[i] = addition_of(cell, plan, network, sites[i]);
  });
  const std::vector<WhatIf> outcomes = with_each(network.input, network.touches, additions);
  advice.nests_tried = sites.size();
  double least = advice.worst_now.value_or(std::numeric_limits<double>::infinity());
  for (std::size_t i = 0; i < sites.size(); ++i) {
    if (worst_of(outcomes[i]) >= least) continue;
    least = worst_of(outcomes[i]);
    advice.best_nest = NestGain{sites[i], outcomes[i]};
  }
}

/// At most `most` of the candidates where no station of the plan stands, spread evenly.
std::vector<Candidate> spread(const Plan& plan, const std::vector<Candidate>& candidates,
                              std::size_t most) {
  std::vector<std::size_t> free;
  for (std::size_t c = 0; c < candidates.size(); ++c) {
    const bool is_taken =
        std::any_of(plan.stations.begin(), plan.stations.end(),
                    [&](const PlannedStation& s) { return s.at == candidates[c].at; });
    if (!is_taken) free.push_back(c);
  }
  std::vector<Candidate> some;
  const std::size_t count = std::min(most, free.size());
  some.reserve(count);
  for (std::size_t i = 0; i < count; ++i) some.push_back(candidates[free[i * free.size() / count]]);
  return some;
}

/// A plan with one more station. A stylus is asked for only where that decides the worst feature: a
/// full target that the plan has is better anyway, and where the plan has a stylus another can only
/// make the feature less uncertain.
class AddedStation {
 public:
  AddedStation(const Cell& cell, const Plan& plan, const Candidate& candidate)
      : cell_(cell),
        stations_(plan.stations),
        aligned_(plan.alignment.features),
        is_asked_(cell.scene().features.size(), true) {
    PlannedStation& added = stations_.emplace_back();
    added.at = candidate.at;
    added.up = candidate.up;
    added.sight = look_without_causes(cell, stance_of(added), [](FeatureId) { return true; });
    std::vector<Verdict> alone(is_asked_.size(), Verdict::blocked);
    for (const PlannedFeature& planned : plan.features)
      if (planned.station) alone[planned.feature.index] = planned.verdict;
    // Where the datum or the part's frame is laid on features all figures depend on who takes
    // these.
    const bool is_whole = !cell.scene().datum.empty() || cell.scene().alignment;
    for (std::size_t f = 0; f < alone.size(); ++f) {
      const bool is_by_all = is_whole || alone[f] == Verdict::blocked;
      is_asked_[f] = is_by_all || alone[f] == Verdict::full_target;
      added.sight.features[f] = mark(FeatureId(f), is_by_all);
    }
  }

  /// The greatest expanded uncertainty, mm; infinite where there are no figures.
  [[nodiscard]] double worst() {
    for (;;) {
      const ProvisionalPlan provisional = provisional_plan(cell_.scene(), stations_, aligned_);
      const PlannedFeature* worst = worst_of(provisional);
      if (worst == nullptr) return std::numeric_limits<double>::infinity();
      if (is_asked_[worst->feature.index]) return worst->uncertainty->expanded;
      is_asked_[worst->feature.index] = true;
      stations_.back().sight.features[worst->feature.index] = mark(worst->feature, true);
    }
  }

 private:
  [[nodiscard]] FeatureMark mark(FeatureId feature, bool is_by_all) const {
    const Scene& scene = cell_.scene();
    std::vector<TargetId> at_hand = all_targets(scene);
    if (!is_by_all)
      std::erase_if(at_hand, [&](TargetId target) { return !is_full_target(scene, target); });
    return FeatureReach(cell_, feature, at_hand)
        .mark(stance_of(stations_.back()), Causes::left_out);
  }

  [[nodiscard]] static const PlannedFeature* worst_of(const ProvisionalPlan& provisional) {
    const PlannedFeature* worst = nullptr;
    if (!provisional.has_figures) return worst;
    for (const PlannedFeature& planned : provisional.plan.features) {
      if (planned.uncertainty &&
          (worst == nullptr || planned.uncertainty->expanded > worst->uncertainty->expanded))
        worst = &planned;
    }
    return worst;
  }

  const Cell& cell_;
  std::vector<PlannedStation> stations_;
  std::vector<FeatureId> aligned_;
  std::vector<bool> is_asked_;  ///< of each feature: another target than asked decides nothing
};

void try_stations(const Cell& cell, const Plan& plan, const std::vector<Candidate>& candidates,
                  Advice& advice) {
  const std::vector<Candidate> some = spread(plan, candidates, kMostStations);
  std::vector<double> worst(some.size(), std::numeric_limits<double>::infinity());
  tbb::parallel_for(std::size_t{0}, some.size(),
                    [&](std::size_t i) { worst[i] = AddedStation(cell, plan, some[i]).worst(); });
  advice.stations_tried = some.size();
  double least = 0;  // with the room's part, as the plan and its provisional plans have it
  for (const PlannedFeature& planned : plan.features)
    if (planned.uncertainty) least = std::max(least, planned.uncertainty->expanded);
  for (std::size_t i = 0; i < some.size(); ++i) {
    if (worst[i] >= least) continue;
    least = worst[i];
    advice.best_station = StationGain{some[i].at, some[i].zone, some[i].name, worst[i], some[i].up};
  }
}

void knock_off(const PlanNetwork& network, Advice& advice) {
  const std::vector<WhatIf> outcomes = leave_one_out(network.input, network.touches);
  for (std::size_t n = 0; n < outcomes.size(); ++n) {
    const bool is_observed =
        std::any_of(network.input.observations.begin(), network.input.observations.end(),
                    [&](const NestObservation& o) { return o.nest == n; });
    if (is_observed) advice.losses.push_back({NestId(n), outcomes[n]});
  }
  std::stable_sort(
      advice.losses.begin(), advice.losses.end(),
      [](const NestLoss& a, const NestLoss& b) { return worst_of(a.after) > worst_of(b.after); });
}

}  // namespace

Advice advise(const Cell& cell, const Plan& plan, const std::vector<NestSite>& sites,
              const std::vector<Candidate>& candidates, const Watch& watch) {
  const Scene& scene = cell.scene();
  Advice advice;
  const PlanNetwork network = plan_network(scene, plan);
  advice.practice = look_at_practice(plan, network);
  if (!states_error(scene.instrument) || network.touches.empty() || plan.stations.empty())
    return advice;
  const NetworkResult result = solve_network(network.input);
  if (!result.network) return advice;
  advice.worst = worst_features(*result.network, network.input, scene.instrument.error,
                                network.touches, kWorst);
  if (!advice.worst.empty()) advice.worst_now = advice.worst.front().uncertainty.expanded;
  if (!watch.is_interrupted()) knock_off(network, advice);
  if (!watch.is_interrupted()) try_nests(cell, plan, network, sites, advice);
  if (!watch.is_interrupted()) try_stations(cell, plan, candidates, advice);
  return advice;
}

}  // namespace standpoint
