#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "planner/network/plan_network.h"
#include "standpoint/plan.h"

namespace standpoint {

/// One station by the rules of practice.
struct StationPractice {
  StationId station;
  std::size_t nests = 0;          ///< that it takes
  std::size_t most_shared = 0;    ///< with one other station
  std::optional<StationId> with;  ///< that one
};

/// How the nests lie about what is measured: told beside the uncertainty, not in its place.
struct Practice {
  std::vector<StationPractice> stations;  ///< in the plan's order
  /// Extent of the observed nests' box over that of the touches' box, along x, y, z; nothing where
  /// the touches have no extent, or there are no nests.
  std::array<std::optional<double>, 3> fill;
  double longest_reach = 0;           ///< of a touch outside the nests' box, mm
  std::optional<FeatureId> farthest;  ///< whose touch that is; empty where none is outside
};

/// `network` is that of `plan`. Pure, O(stations^2 nests^2 + touches).
[[nodiscard]] Practice look_at_practice(const Plan& plan, const PlanNetwork& network);

}  // namespace standpoint
