#pragma once

#include <filesystem>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"
#include "standpoint/scene.h"

namespace standpoint {

/// A scene and the surfaces of its bodies, as Cell takes them.
struct ReadScene {
  Scene scene;
  Meshes meshes;
};

/// Reads and validates a scene file and its meshes (contract section 2). Every fault is reported at
/// once; nothing is half read.
[[nodiscard]] tl::expected<ReadScene, Faults> read_scene(const std::filesystem::path& file);

}  // namespace standpoint
