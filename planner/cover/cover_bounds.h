#pragma once

#include <vector>

#include "planner/cover/cover_core.h"

namespace standpoint {

/// What a row asks for: so many of these columns.
struct RowNeed {
  std::vector<BitWord> columns;
  std::size_t size = 0;  ///< how many columns
  int need = 0;          ///< >= 1
};

/// What the rows ask for beside the forced columns, which are in none of the lists. Every choice
/// that is enough meets it. A shared row asks for one of the columns that have touches of it, and
/// for two where none of them covers it by itself: less than the row itself does. Of a shared row
/// of which a forced column has touches nothing is asked. O(columns rows / 64).
[[nodiscard]] std::vector<RowNeed> open_needs(const CoverCore& core);

/// No choice costs less than this, in steps: the greater of two bounds. Rows that no column has in
/// common need their cheapest columns each (as many as the row's need; of a shared row that none
/// covers alone, two); and columns cover no more for their cost than those that cover most for
/// theirs.
[[nodiscard]] int least_cost(const CoverCore& core);

}  // namespace standpoint
