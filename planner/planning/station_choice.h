#pragma once

#include <optional>
#include <vector>

#include "planner/cover/cover.h"
#include "planner/planning/provisional_plan.h"
#include "planner/stations/candidates.h"
#include "planner/stations/reach_table.h"
#include "planner/stations/ties.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// Which candidates are taken, and all that was worked out on the way.
struct StationChoice {
  Candidates candidates;
  ReachTable table;
  Ties ties;
  CoverSolution cover;
  /// The cover's, improved in the last two aims. Ascending; the plan may put another one first.
  std::vector<CandidateId> chosen;
  LaterAims later;  ///< how far they were improved
};

/// The stations of contract section 4, over all candidates of the scene. Nothing when `watch` was
/// interrupted. The same scene gives the same choice at any number of threads. With `Rods::later`
/// the table may leave open what the choice does not rest on (docs/stations.md, "Rods").
[[nodiscard]] std::optional<StationChoice> choose_stations(const Cell& cell, const Watch& watch,
                                                           Rods rods = Rods::later);

/// Whether links between them connect all of `chosen`. O(chosen^3).
[[nodiscard]] bool is_connected(const Ties& ties, const std::vector<CandidateId>& chosen);

/// The links among `chosen`, as stations in that order.
[[nodiscard]] std::vector<Link> links_between(const Ties& ties,
                                              const std::vector<CandidateId>& chosen);

/// The whole plan from a provisional plan of `choice.chosen`: links, proof, what is not reached,
/// warnings.
[[nodiscard]] Plan finish_plan(const Cell& cell, const StationChoice& choice,
                               ProvisionalPlan provisional, std::vector<Link> links);

}  // namespace standpoint
