#pragma once

#include "standpoint/cell.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One feature, as seen from an instrument that stands so.
[[nodiscard]] FeatureMark judge_feature(const Cell& cell, const Stance& stance, FeatureId feature);

/// One nest, as seen from an instrument that stands so.
[[nodiscard]] NestMark judge_nest(const Cell& cell, const Stance& stance, NestId nest);

}  // namespace standpoint
