#pragma once

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_core.h"

namespace standpoint {

struct FewestColumns {
  Columns names;  ///< in the problem; connected and enough
  int lower_bound = 0;

  [[nodiscard]] bool is_proven() const { return lower_bound == static_cast<int>(names.size()); }
};

/// The fewest columns of one core that are connected and enough. Stops where the number is proven,
/// or proven to be above `interesting`, or the budget is over.
[[nodiscard]] FewestColumns fewest_columns(const CoverCore& core, int interesting,
                                           CoverBudget& budget);

struct MostFullRows {
  /// In the problem; nothing where no choice with more than `floor` full rows was found.
  std::optional<Columns> names;
  /// Proven: no choice of that many columns has more full rows.
  int upper_bound = 0;
};

/// Of the connected choices of `count` columns that are enough, one with the most full rows, if
/// that is more than `floor`. Precondition: `count` is the least possible number (the reductions
/// rest on it).
[[nodiscard]] MostFullRows most_full_rows(const CoverCore& core, int count, int floor,
                                          CoverBudget& budget);

}  // namespace standpoint
