#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "io/use/start_features.h"
#include "io/use/start_scene.h"

namespace standpoint {

/// What was guessed for this scene, in the order of its lines. `features` is null where the list is
/// the user's own.
[[nodiscard]] std::vector<StartGuess> start_guesses(const StartScene& scene,
                                                    const StartFeatures* features);

}  // namespace standpoint
