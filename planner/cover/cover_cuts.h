#pragma once

#include <vector>

#include "planner/cover/cover_core.h"

namespace standpoint {

/// sum of x over `plus` - sum of x over `minus` >= at_least: met by every connected choice that is
/// enough.
struct ColumnCut {
  Columns plus, minus;
  int at_least = 0;

  friend bool operator==(const ColumnCut&, const ColumnCut&) = default;
};

/// Cuts that a choice breaks which leaves needed shared rows open, one or two for each of them: a
/// choice must have a column outside the largest sets of columns that leave the row open
/// (derivation in docs/stations.md). Empty where it meets them all.
[[nodiscard]] std::vector<ColumnCut> open_row_cuts(const CoverCore& core, const Columns& chosen);

/// sum of x over `plus` >= s, where s says that the shared row `row` is covered fully by several
/// columns together.
struct FullCut {
  std::size_t row = 0;
  Columns plus;

  friend bool operator==(const FullCut&, const FullCut&) = default;
};

/// Cuts that a choice breaks which is said to cover `rows` fully together, and does not.
/// Precondition: it holds no column that covers one of them alone, but not fully.
[[nodiscard]] std::vector<FullCut> false_full_cuts(const CoverCore& core, const Columns& chosen,
                                                   const std::vector<std::size_t>& rows);

}  // namespace standpoint
