#pragma once

#include <nlohmann/json_fwd.hpp>

#include "io/use/why_plan.h"

namespace standpoint::json {

/// How the plan measures the subject, and how each of its other stations sees it (docs/why.md).
[[nodiscard]] nlohmann::ordered_json why_plan(const Scene& scene, const WhyPlan& plan,
                                              Subject subject);

}  // namespace standpoint::json
