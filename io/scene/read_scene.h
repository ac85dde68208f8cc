#pragma once

#include <filesystem>

#include <tl/expected.hpp>

#include "io/bodies/body_reader.h"
#include "io/scene/fault.h"
#include "planner/scene.h"

namespace standpoint {

struct ReadScene {
  Scene scene;
  std::vector<BodyReport> bodies;  ///< for each body what its file is like
};

/// Reads and validates a scene file and its meshes (contract section 2). Every fault is reported at
/// once; nothing is half read.
[[nodiscard]] tl::expected<ReadScene, Faults> read_scene(const std::filesystem::path& file);

}  // namespace standpoint
