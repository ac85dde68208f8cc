#pragma once

#include "planner/planning/provisional_plan.h"
#include "standpoint/cell.h"

namespace standpoint {

/// Where several targets take a feature equally well from its station, the one that spares changes
/// of target: that which most of the nearest features of the same station use, of those whose
/// target is not in doubt; then that which can take most of the station's features; then the first
/// by name. Margins then say what the plan says anyway, so nothing of the aims is lost.
///
/// `provisional` is laid anew where a target changes. O(features^2) beside that.
[[nodiscard]] ProvisionalPlan settle_targets(const Cell& cell, ProvisionalPlan provisional);

}  // namespace standpoint
