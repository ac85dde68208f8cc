#pragma once

#include <string>

#include "io/use/standing_place.h"
#include "io/use/why_plan.h"
#include "standpoint/why.h"

namespace standpoint {

/// The diagnosis as one JSON object, format "standpoint-why" (docs/why.md); with "measured" where
/// `place` says that the place was measured (docs/measured.md), and "plan" where one was given.
[[nodiscard]] std::string why_json(const Scene& scene, const Diagnosis& diagnosis,
                                   const StandingPlace& place = {}, const WhyPlan* plan = nullptr);

}  // namespace standpoint
