#pragma once

#include <string>

#include "planner/network/plan_network.h"
#include "planner/rehearsal/rehearse.h"
#include "standpoint/scene.h"

namespace standpoint {

/// The JSON object of a rehearsal as text, ending with a newline. Lengths in the scene's units.
[[nodiscard]] std::string rehearsal_json(const Scene& scene, const Plan& plan,
                                         const Rehearsal& rehearsal);

}  // namespace standpoint
