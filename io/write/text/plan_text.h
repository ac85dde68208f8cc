#pragma once

#include <filesystem>
#include <iosfwd>

#include "planner/crew/cautions.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Prints a plan for people: stations, features by station, what is blocked and why, links, what is
/// proven, warnings, cautions.
void print_plan(const Scene& scene, const Plan& plan, const Cautions& cautions, std::ostream& out);

}  // namespace standpoint
