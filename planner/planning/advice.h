#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planner/network/what_if.h"
#include "planner/planning/practice.h"
#include "planner/stations/candidates.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

// What a finished plan is worth, what it hangs on, and what would make it better.

/// What is left when one nest is knocked off.
struct NestLoss {
  NestId nest;
  WhatIf after;
};

/// What one nest more would do.
struct NestGain {
  Nest nest;
  WhatIf after;
};

/// What one station more would do, the features laid anew on all stations.
struct StationGain {
  Vec3 at;
  std::optional<std::uint32_t> zone;
  std::string name;         ///< of a fixed place
  double worst = 0;         ///< greatest expanded uncertainty then, mm
  Vec3 up = Vec3::UnitZ();  ///< the instrument's standing axis there
};

struct Advice {
  std::vector<WorstContributor> worst;      ///< the three that suffer most
  std::vector<NestLoss> losses;             ///< of every observed nest, the gravest first
  std::optional<NestGain> best_nest;        ///< that lowers the worst uncertainty most
  std::optional<StationGain> best_station;  ///< likewise, of those that were tried
  std::size_t nests_tried = 0, stations_tried = 0;
  std::optional<double> worst_now;  ///< greatest expanded uncertainty of the network, mm
  Practice practice;
};

/// Looks into a plan of the cell's scene. `sites`: where nests could be put; `candidates`: where
/// else the instrument could stand, of which at most 8, spread evenly, are tried. What is lost and
/// gained is told without the room's part (contract section 6 alone). Where the plan has no
/// network, only practice is told. On all cores, deterministic; stops early when `watch` is
/// interrupted. O(nests x network + sites x stations looks + 8 looks and provisional plans).
[[nodiscard]] Advice advise(const Cell& cell, const Plan& plan, const std::vector<NestSite>& sites,
                            const std::vector<Candidate>& candidates, const Watch& watch);

}  // namespace standpoint
