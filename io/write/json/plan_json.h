#pragma once

#include <string>

#include <nlohmann/json_fwd.hpp>

#include "planner/crew/cautions.h"
#include "planner/planning/advice.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// The object of plan.json (contract sections 5 and 6), for embedding in another.
/// Lengths in the scene's units, covariances in their squares. O(stations x features + touches).
[[nodiscard]] nlohmann::ordered_json plan_object(const Scene& scene, const Plan& plan,
                                                 const Cautions& cautions);

/// The text of plan.json, ending with a newline; with what the plan hangs on where it is given.
[[nodiscard]] std::string plan_json(const Scene& scene, const Plan& plan, const Cautions& cautions,
                                    const Advice* advice = nullptr);

}  // namespace standpoint
