#pragma once

#include <iosfwd>

#include "io/use/why_plan.h"
#include "standpoint/why.h"

namespace standpoint {

/// Prints a diagnosis for people: what is in the way, how badly, and the cures; how the plan stands
/// to it where one was given.
void print_why(const Scene& scene, const Diagnosis& diagnosis, std::ostream& out,
               const WhyPlan* plan = nullptr);

}  // namespace standpoint
