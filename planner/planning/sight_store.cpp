#include "planner/planning/sight_store.h"

#include <algorithm>
#include <utility>

#include <tbb/parallel_for.h>

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"

namespace standpoint {

std::vector<Verdict> best_verdicts(const ReachTable& table, const std::vector<CandidateId>& set) {
  std::vector<Verdict> best(table.feature_count(), Verdict::blocked);
  for (std::size_t f = 0; f < best.size(); ++f)
    for (const CandidateId c : set) best[f] = std::min(best[f], table.feature(c, FeatureId(f)));
  return best;
}

/// Where no station of a set takes a feature alone, all that reach some of it may share it.
bool SightStore::may_measure(CandidateId c, FeatureId feature, Verdict best) const {
  if (best == Verdict::blocked) return !table_.parts(feature).ways.empty();
  return table_.feature(c, feature) == best;
}

void SightStore::look_for(const std::vector<std::vector<CandidateId>>& sets) {
  look_at_nests(sets);
  // By feature, so that what does not depend on the place is worked out once.
  std::vector<std::vector<CandidateId>> wanted(table_.feature_count());
  for (const std::vector<CandidateId>& set : sets) {
    const std::vector<Verdict> best = best_verdicts(table_, set);
    for (const CandidateId c : set) {
      Known& known = known_.at(c);
      if (!known.is_looked_at) {
        known.is_looked_at = true;
        known.features.resize(table_.feature_count());
        ++size_;
      }
      for (std::size_t f = 0; f < best.size(); ++f) {
        if (may_measure(c, FeatureId(f), best[f]) && !known.features[f]) wanted[f].push_back(c);
      }
    }
  }
  for (std::vector<CandidateId>& places : wanted) {
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
  }
  tbb::parallel_for(std::size_t{0}, wanted.size(), [&](std::size_t f) {
    if (wanted[f].empty()) return;
    FeatureReach reach(cell_, FeatureId(f));
    for (const CandidateId c : wanted[f])
      known_.at(c).features[f] = reach.mark(stance_of(candidates_[c.index]), Causes::left_out);
  });
}

void SightStore::look_at_nests(const std::vector<std::vector<CandidateId>>& sets) {
  std::vector<CandidateId> arrived;
  for (const std::vector<CandidateId>& set : sets) {
    for (const CandidateId c : set) {
      const auto [known, is_new] = known_.try_emplace(c);
      if (!is_new) continue;
      known->second.nests.resize(table_.nest_count());
      arrived.push_back(c);
    }
  }
  tbb::parallel_for(std::size_t{0}, arrived.size() * table_.nest_count(), [&](std::size_t i) {
    const CandidateId c = arrived[i / table_.nest_count()];
    const NestId nest(i % table_.nest_count());
    NestMark& mark = known_.at(c).nests[nest.index];
    mark.nest = nest;
    if (table_.nest(c, nest) != Verdict::blocked)
      mark.mark = NestReach(cell_, cell_.scene().nests[nest.index])
                      .mark(stance_of(candidates_[c.index]), Causes::left_out);
  });
}

std::vector<PlannedStation> SightStore::with_nests(const std::vector<CandidateId>& set) const {
  std::vector<PlannedStation> stations;
  for (const CandidateId c : set) {
    PlannedStation& station = stations.emplace_back();
    station.at = candidates_[c.index].at;
    station.up = candidates_[c.index].up;
    station.sight.at = station.at;
    station.sight.up = station.up;
    station.sight.nests = known_.at(c).nests;
  }
  return stations;
}

std::vector<PlannedStation> SightStore::stations_of(const std::vector<CandidateId>& set) const {
  const std::vector<Verdict> best = best_verdicts(table_, set);
  std::vector<PlannedStation> stations = with_nests(set);
  for (std::size_t i = 0; i < set.size(); ++i) {
    std::vector<FeatureMark>& features = stations[i].sight.features;
    features.resize(best.size());
    for (std::size_t f = 0; f < best.size(); ++f) {
      features[f].feature = FeatureId(f);
      if (may_measure(set[i], FeatureId(f), best[f])) features[f] = *known_.at(set[i]).features[f];
    }
  }
  return stations;
}

}  // namespace standpoint
