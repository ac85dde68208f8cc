#pragma once

#include <vector>

#include "planner/planning/station_choice.h"
#include "standpoint/nests.h"

namespace standpoint {

/// Other sets of stations that are as good as the chosen one in the first three aims and tied as
/// well when every site is a nest.
struct StationSets {
  std::vector<std::vector<CandidateId>> sets;  ///< each ascending; without the chosen one
  bool is_all = false;                         ///< whether there are no others
};

/// All of them where no more than `effort.most_tested` sets need be tested and no more than
/// `effort.most_sets` are found; otherwise `most_sets` of those that differ in one station, spread
/// evenly. Sets keep the `keep` stations. Deterministic.
[[nodiscard]] StationSets equal_station_sets(const Scene& scene, const StationChoice& choice,
                                             const StationEffort& effort);

}  // namespace standpoint
