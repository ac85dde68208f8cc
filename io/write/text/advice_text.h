#pragma once

#include <iosfwd>

#include "planner/planning/advice.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Prints what the plan hangs on and what would make it better, for people.
void print_advice(const Scene& scene, const Plan& plan, const Advice& advice, std::ostream& out);

/// Prints a table of the features with uncertainty: U, its direction, and where a tolerance is
/// given its ratio to U and the acceptance limits with their guard bands (ISO 14253-1).
void print_uncertainty(const Scene& scene, const Plan& plan, std::ostream& out);

}  // namespace standpoint
