#pragma once

#include <functional>
#include <map>
#include <vector>

#include "planner/planning/provisional_plan.h"
#include "planner/stations/reach_table.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// What a plan's last two aims are searched over.
struct SwapSearch {
  const Cell& cell;
  const std::vector<Candidate>& candidates;
  const ReachTable& table;
  /// Whether a set of candidates is tied as contract section 4 asks.
  std::function<bool(const std::vector<CandidateId>&)> is_tied;
};

/// Improves the last two aims of contract section 4 among plans equal in the first three: swaps one
/// station at a time for another candidate, taking the best swap of each round, until no swap helps
/// or the rounds are used up. Each round looks from at most `kLooksPerRound` candidates: half of
/// them nearest to the station they would replace, half spread evenly over all that qualify (docs/
/// stations.md). Deterministic; looks run on all cores. Returns the chosen, ascending.
[[nodiscard]] std::vector<CandidateId> improve(const SwapSearch& search,
                                               std::vector<CandidateId> chosen, const Watch& watch);

/// The stations of a choice with their sights, in candidate order, named.
[[nodiscard]] std::vector<PlannedStation> stations_of(const SwapSearch& search,
                                                      const std::vector<CandidateId>& chosen);

}  // namespace standpoint
