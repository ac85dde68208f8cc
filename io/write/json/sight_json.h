#pragma once

#include <string>

#include <nlohmann/json_fwd.hpp>

#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// The object that `sight --json` prints (contract section 5), ending with a newline.
/// Lengths in the scene's units. O(touches). The page's engine writes the same.
[[nodiscard]] std::string sight_json(const Scene& scene, const Sight& sight);
/// The same, with `measured` (measured_json.h) beside "at".
[[nodiscard]] std::string sight_json(const Scene& scene, const Sight& sight,
                                     const nlohmann::ordered_json& measured);

}  // namespace standpoint
