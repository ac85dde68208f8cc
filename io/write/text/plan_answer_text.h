#pragma once

#include <iosfwd>

#include "io/use/plan_scene.h"

namespace standpoint {

/// Prints what `plan` found, for people: with `details` all of it, else a summary that leaves two
/// lines of `kSummaryLines` for where the files are.
void print_plan_answer(const PlanAnswer& answer, bool details, std::ostream& out);

}  // namespace standpoint
