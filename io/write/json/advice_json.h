#pragma once

#include <nlohmann/json_fwd.hpp>

#include "planner/planning/advice.h"
#include "standpoint/scene.h"

namespace standpoint {

/// The "advice" of plan.json and nests.json. Lengths in the scene's units.
[[nodiscard]] nlohmann::ordered_json advice_object(const Scene& scene, const Plan& plan,
                                                   const Advice& advice);

}  // namespace standpoint
