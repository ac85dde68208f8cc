#pragma once

#include <iosfwd>

#include "planner/nests/choose_nests.h"
#include "planner/planning/advice.h"
#include "planner/planning/cautions.h"

namespace standpoint {

/// Prints the chosen sites, what is proven of them, the plan and what it hangs on.
void print_nests(const NestChoice& choice, const Advice& advice, const Cautions& cautions,
                 std::ostream& out);

}  // namespace standpoint
