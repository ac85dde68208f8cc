#pragma once

#include "planner/cell.h"
#include "planner/reach/marks.h"

namespace standpoint {

/// Marks every feature and nest as seen from `at`, with causes (contract section 3).
/// Every full target is tried on every touch; styli where no full target is enough and on the
/// single touches that none reaches. One thread.
[[nodiscard]] Sight look_from(const Cell& cell, const Vec3& at);

/// One feature, as seen from `at`.
[[nodiscard]] FeatureMark mark_feature(const Cell& cell, const Vec3& at, FeatureId feature);

/// One nest, as seen from `at`.
[[nodiscard]] NestMark mark_nest(const Cell& cell, const Vec3& at, NestId nest);

}  // namespace standpoint
