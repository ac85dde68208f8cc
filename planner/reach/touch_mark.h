#pragma once

#include <vector>

#include "planner/reach/place.h"
#include "standpoint/sight.h"

namespace standpoint {

[[nodiscard]] inline Verdict verdict_by(const Scene& scene, TargetId target) {
  return is_full_target(scene, target) ? Verdict::full_target : Verdict::offset_stylus;
}

/// Whether a full target reaches: then no stylus can be the best, and none needs to be tried.
[[nodiscard]] bool is_any_full(const Scene& scene, const std::vector<Outcome>& outcomes);

/// Marks a touch from the outcomes of the targets tried on it: by its best target, full targets
/// before offset styli, then the larger margin, of equal ones the first (contract section 3).
/// `touch`: as the target that the mark shows takes it. With causes left out, a blocked touch has
/// neither causes nor a margin.
[[nodiscard]] TouchMark judge_touch(const Scene& scene, const Touch& touch,
                                    const std::vector<Outcome>& outcomes, Causes causes);

}  // namespace standpoint
