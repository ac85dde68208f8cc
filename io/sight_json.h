#pragma once

#include <string>

#include "io/standing_place.h"
#include "planner/reach/marks.h"
#include "planner/scene.h"

namespace standpoint {

/// The object that `sight --json` prints (contract section 5), ending with a newline.
/// Lengths in the scene's units; with "measured" where `place` says that the place was measured.
/// O(touches).
[[nodiscard]] std::string sight_json(const Scene& scene, const Sight& sight,
                                     const StandingPlace& place = {});

}  // namespace standpoint
