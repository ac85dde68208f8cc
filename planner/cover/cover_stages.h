#pragma once

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_core.h"

namespace standpoint {

struct FewestColumns {
  Columns names;        ///< in the problem; connected and enough
  int cost = 0;         ///< of them, steps
  int lower_bound = 0;  ///< steps

  [[nodiscard]] bool is_proven() const { return lower_bound == cost; }
};

/// The columns of least cost of one core that are connected and enough: the fewest where all cost
/// the same. Stops where the cost is proven, or proven to be above `interesting` (steps), or the
/// budget is over.
[[nodiscard]] FewestColumns fewest_columns(const CoverCore& core, int interesting,
                                           CoverBudget& budget);

struct MostFullRows {
  /// In the problem; nothing where no choice with more than `floor` full rows was found.
  std::optional<Columns> names;
  /// Proven: no choice of that cost has more full rows.
  int upper_bound = 0;
};

/// Of the connected choices of cost `cost` (steps) that are enough, one with the most full rows, if
/// that is more than `floor`. Precondition: `cost` is the least possible one (the reductions rest
/// on it).
[[nodiscard]] MostFullRows most_full_rows(const CoverCore& core, int cost, int floor,
                                          CoverBudget& budget);

}  // namespace standpoint
