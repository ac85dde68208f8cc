#pragma once

#include <string>

#include "io/use/compare_plans.h"

namespace standpoint {

/// The JSON object of `compare --json` (contract section 8), in the units of the plan after; ends
/// with a newline.
[[nodiscard]] std::string comparison_json(const CompareAnswer& answer);

}  // namespace standpoint
