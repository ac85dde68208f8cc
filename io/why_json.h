#pragma once

#include <string>

#include "planner/why/diagnosis.h"

namespace standpoint {

/// The diagnosis as one JSON object, format "standpoint-why" (docs/why.md).
[[nodiscard]] std::string why_json(const Scene& scene, const Diagnosis& diagnosis);

}  // namespace standpoint
