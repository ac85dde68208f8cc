#pragma once

#include "standpoint/cell.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One feature, as seen from `at`.
[[nodiscard]] FeatureMark judge_feature(const Cell& cell, const Vec3& at, FeatureId feature);

/// One nest, as seen from `at`.
[[nodiscard]] NestMark judge_nest(const Cell& cell, const Vec3& at, NestId nest);

}  // namespace standpoint
