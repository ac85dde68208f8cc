#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "planner/planning/provisional_plan.h"
#include "planner/stations/reach_table.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// What a plan's last two aims are searched over.
struct LaterSearch {
  const Cell& cell;
  const std::vector<Candidate>& candidates;
  const ReachTable& table;
  /// Whether a set of candidates is tied as contract section 4 asks.
  std::function<bool(const std::vector<CandidateId>&)> is_tied;
  /// Called before the table is read of any set that does not equal the choice so far: what it
  /// leaves open is asked for then. May be empty.
  std::function<void()> close_table = {};
  std::vector<FeatureId> aligned = {};  ///< what the part's frame is laid on; empty without one
};

/// The best found in the last two aims.
struct LaterChoice {
  std::vector<CandidateId> chosen;  ///< ascending
  LaterAims proof;                  ///< how far the search went
};

/// The best set in the last two aims of contract section 4, of those equal to `chosen` in the first
/// three. Where these are few, none of them is left out but by a proven bound; otherwise the most
/// promising ones are judged and then improved by swaps of one and of two stations, from several
/// starts (docs/stations.md, "The later aims"). Deterministic; on all cores. Where all are decided,
/// the answer is the same for any order of candidates, features, targets, bodies and nests: of sets
/// that do not differ in the aims the one whose places come first by x, then y, then z.
[[nodiscard]] LaterChoice improve(const LaterSearch& search, std::vector<CandidateId> chosen,
                                  const Watch& watch);

/// The stations of a choice with their sights, in candidate order, named.
[[nodiscard]] std::vector<PlannedStation> stations_of(const LaterSearch& search,
                                                      const std::vector<CandidateId>& chosen);

}  // namespace standpoint
