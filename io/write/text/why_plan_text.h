#pragma once

#include <iosfwd>

#include "io/use/why_plan.h"

namespace standpoint {

/// Prints how the plan measures the subject, and how each of its other stations sees it.
void print_why_plan(const Scene& scene, const WhyPlan& plan, Subject subject, std::ostream& out);

}  // namespace standpoint
