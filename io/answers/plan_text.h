#pragma once

#include <filesystem>
#include <iosfwd>

#include "planner/plan.h"
#include "planner/planning/cautions.h"
#include "planner/scene.h"

namespace standpoint {

/// Prints a plan for people: stations, features by station, what is blocked and why, links, what is
/// proven, warnings, cautions.
void print_plan(const Scene& scene, const Plan& plan, const Cautions& cautions, std::ostream& out);

}  // namespace standpoint
