#pragma once

#include <vector>

#include "planner/cover/cover.h"
#include "planner/stations/reach_table.h"
#include "planner/stations/ties.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// Whether stations are counted by what they cost: `CostSteps` does so where costs differ.
[[nodiscard]] bool do_costs_differ(const std::vector<Candidate>& candidates);

/// The candidates that are best in the first three aims of contract section 4: the covering problem
/// of the table, solved (`solve_cover`). A column is a candidate, a row a feature.
///
/// What candidates reach by stylus of features that they do not take alone is not in the table at
/// first, since it takes a search for each touch. It is asked, and added to the table, only where
/// the choice could be better for it (docs/stations.md); the answer is exact as if all had been
/// asked. `watch.time_limit_s` holds for all programs together. The same table gives the same
/// choice, unless time runs out.
[[nodiscard]] CoverSolution solve_stations(const Cell& cell,
                                           const std::vector<Candidate>& candidates,
                                           const Ties& ties, const Watch& watch, ReachTable& table);

}  // namespace standpoint
