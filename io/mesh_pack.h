#pragma once

#include <string>
#include <vector>

#include "planner/scene.h"

namespace standpoint {

/// All bodies' meshes as the page carries them: text without '<', '&' or white space. Lossless.
/// Same meshes, same bytes.
[[nodiscard]] std::string pack_meshes(const std::vector<Body>& bodies);

}  // namespace standpoint
