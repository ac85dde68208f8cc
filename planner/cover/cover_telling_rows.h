#pragma once

#include <optional>

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_core.h"

namespace standpoint {

struct TellingRows {
  int bound = 0;                  ///< proven: no choice that is enough costs less, steps
  std::optional<Columns> better;  ///< a connected choice that is enough and costs less than asked
  std::size_t rows = 0;           ///< how many rows tell it
};

/// Bounds the cost by the least cost of a few rows alone, solved exactly (`FewRows`): rows that
/// such a choice misses are added until none is missed, or no choice of them costs less than
/// `below` (docs/stations.md). Of ties it knows only what cuts of plain rows say. Ends early, with
/// what is proven by then, where the rows are no longer few. `bound`: what is proven before; steps.
/// The same core gives the same answer, unless time runs out. Exponential at worst, within a fixed
/// number of branches and what the budget leaves the solver. Precondition: the core is connected.
[[nodiscard]] TellingRows bound_by_telling_rows(const CoverCore& core, int bound, int below,
                                                CoverBudget& budget);

}  // namespace standpoint
