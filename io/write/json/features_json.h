#pragma once

#include <string>

#include "io/use/find_features.h"

namespace standpoint {

/// What `features --json` prints (contract section 8, docs/features.md). Lengths in mm, angles in
/// degrees.
[[nodiscard]] std::string features_json(const FeaturesAnswer& answer);

}  // namespace standpoint
