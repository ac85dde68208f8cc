#include "planner/planning/set_bounds.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "planner/network/plan_network.h"
#include "planner/planning/sight_store.h"

namespace standpoint {
namespace {

/// The greatest over the features of the least that `bound_from(i, feature)` gives for any station
/// i of the set that has the set's best verdict.
template <class BoundFrom>
double greatest_of_least(const ReachTable& table, const std::vector<CandidateId>& set,
                         BoundFrom&& bound_from) {
  const std::vector<Verdict> best = best_verdicts(table, set);
  double worst = 0;
  for (std::size_t f = 0; f < best.size(); ++f) {
    if (best[f] == Verdict::blocked) continue;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < set.size(); ++i)
      if (table.feature(set[i], FeatureId(f)) == best[f])
        least = std::min(least, bound_from(i, FeatureId(f)));
    worst = std::max(worst, least);
  }
  return worst;
}

}  // namespace

double SetBounds::of(const std::vector<CandidateId>& set) {
  std::vector<const Place*> places;
  places.reserve(set.size());
  for (const CandidateId c : set) places.push_back(&place(c));
  return greatest_of_least(table_, set, [&](std::size_t i, FeatureId feature) {
    return places[i]->of_features[feature.index];
  });
}

double SetBounds::in_network(const std::vector<CandidateId>& set,
                             std::vector<PlannedStation> stations) const {
  Plan plan;
  plan.stations = std::move(stations);
  const PlanUncertainty uncertainty = predict_uncertainty(scene_, plan_network(scene_, plan));
  if (!uncertainty.network) return 0;
  return greatest_of_least(table_, set, [&](std::size_t i, FeatureId feature) {
    return places_.at(set[i]).least.of(
        scene_.features[feature.index], table_.feature(set[i], feature),
        table_.first_target(set[i], feature), uncertainty.network->pose_covariance[i]);
  });
}

const SetBounds::Place& SetBounds::place(CandidateId c) {
  const auto known = places_.find(c);
  if (known != places_.end()) return known->second;
  std::vector<LeastUncertainty::SeenNest> nests;
  for (std::size_t n = 0; n < table_.nest_count(); ++n)
    if (const Verdict verdict = table_.nest(c, NestId(n)); verdict != Verdict::blocked)
      nests.push_back({NestId(n), verdict});
  Place place{LeastUncertainty(scene_, candidates_[c.index].at, nests),
              std::vector<double>(table_.feature_count(), 0.0)};
  for (std::size_t f = 0; f < place.of_features.size(); ++f) {
    const Verdict verdict = table_.feature(c, FeatureId(f));
    if (verdict != Verdict::blocked)
      place.of_features[f] =
          place.least.of(scene_.features[f], verdict, table_.first_target(c, FeatureId(f)));
  }
  return places_.emplace(c, std::move(place)).first->second;
}

}  // namespace standpoint
