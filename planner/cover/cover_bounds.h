#pragma once

#include "planner/cover/cover_core.h"

namespace standpoint {

/// No choice costs less than this, in steps: the greater of two bounds. Rows that no column has in
/// common need their cheapest columns each (as many as the row's need; of a shared row that none
/// covers alone, two); and columns cover no more for their cost than those that cover most for
/// theirs.
[[nodiscard]] int least_cost(const CoverCore& core);

}  // namespace standpoint
