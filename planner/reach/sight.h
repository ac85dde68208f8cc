#pragma once

#include <functional>

#include "standpoint/cell.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One feature, as seen from an instrument that stands so.
[[nodiscard]] FeatureMark judge_feature(const Cell& cell, const Stance& stance, FeatureId feature);

/// One nest, as seen from an instrument that stands so.
[[nodiscard]] NestMark judge_nest(const Cell& cell, const Stance& stance, NestId nest);

/// What look_from() tells, without causes and without the margins of what is blocked: for places
/// that are only tried. Features that are `known_blocked` are not looked at: their marks say that
/// they are blocked, and no more.
[[nodiscard]] Sight look_without_causes(
    const Cell& cell, const Stance& stance,
    const std::function<bool(FeatureId)>& known_blocked = [](FeatureId) { return false; });

}  // namespace standpoint
