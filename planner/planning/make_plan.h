#pragma once

#include "planner/cell.h"
#include "planner/plan.h"
#include "planner/planning/watch.h"

namespace standpoint {

/// The main job (contract section 4): candidates, reach, stations, network, marks. Returns nothing
/// when `watch` was interrupted. The same scene gives the same plan, whatever the number of
/// threads.
[[nodiscard]] std::optional<Plan> make_plan(const Cell& cell, const Watch& watch);

}  // namespace standpoint
