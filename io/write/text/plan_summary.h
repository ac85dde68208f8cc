#pragma once

#include <cstddef>
#include <iosfwd>

#include "planner/crew/cautions.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// How many lines a command prints without --details, so that all of it is seen at once.
inline constexpr std::size_t kSummaryLines = 40;

/// Prints a plan in at most `most_lines` lines: how many features are reached, the stations, what
/// is blocked and why in a line each, the warnings by kind, what the cautions are about, and how to
/// see more. Where a plan has more stations or blocked features than lines are left, the rest is
/// counted. Below about 25 `most_lines` is not kept: what must be said is said. A line may be wider
/// than the terminal, where names are long. O(plan).
void print_plan_summary(const Scene& scene, const Plan& plan, const Cautions& cautions,
                        std::size_t most_lines, std::ostream& out);

}  // namespace standpoint
