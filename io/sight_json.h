#pragma once

#include <string>

#include "planner/reach/marks.h"
#include "planner/scene.h"

namespace standpoint {

/// The object that `sight --json` prints (contract section 5), ending with a newline.
/// Lengths in the scene's units. O(touches).
[[nodiscard]] std::string sight_json(const Scene& scene, const Sight& sight);

}  // namespace standpoint
