#pragma once

#include <iosfwd>

#include "planner/rehearsal/rehearse.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Prints a rehearsal for people: spread against prediction, and whether blunders are caught.
void print_rehearsal(const Scene& scene, const Plan& plan, const Rehearsal& rehearsal,
                     std::ostream& out);

}  // namespace standpoint
