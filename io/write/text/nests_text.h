#pragma once

#include <iosfwd>

#include "planner/crew/cautions.h"
#include "planner/planning/advice.h"
#include "standpoint/nests.h"

namespace standpoint {

/// Prints the chosen sites, what is proven of them, the plan and what it hangs on.
void print_nests(const NestChoice& choice, const Advice& advice, const Cautions& cautions,
                 std::ostream& out);

/// The same in a few lines: the sites, what is proven of them, and the plan as
/// print_plan_summary has it.
void print_nests_summary(const NestChoice& choice, const Cautions& cautions, std::ostream& out);

}  // namespace standpoint
