#pragma once

#include <string>

#include "io/answers/standing_place.h"
#include "io/answers/why_plan.h"
#include "planner/why/diagnosis.h"

namespace standpoint {

/// The diagnosis as one JSON object, format "standpoint-why" (docs/why.md); with "measured" where
/// `place` says that the place was measured (docs/measured.md), and "plan" where one was given.
[[nodiscard]] std::string why_json(const Scene& scene, const Diagnosis& diagnosis,
                                   const StandingPlace& place = {}, const WhyPlan* plan = nullptr);

}  // namespace standpoint
