#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"

namespace standpoint {

/// One file of a packed scene.
struct ScenePiece {
  std::string name;  ///< its path in the packed scene
  std::string bytes;
};

/// All files of a scene as they go into one (contract section 12): "scene.json" with what it
/// includes, meshes, lists, and the buffers of glTF meshes, in order of their names. Everything
/// stands side by side; paths in scenes are rewritten, names that would fall together are numbered.
/// A scene without a name gets the one that it goes by now, so that its plans stay the same.
///
/// Precondition: read_scene_file reads it. Failure: faults of files that are gone since, and of
/// buffers that a glTF file has elsewhere than beside it. O(n) in bytes. Same files, same bytes.
[[nodiscard]] tl::expected<std::vector<ScenePiece>, Faults> gather_scene(
    const std::filesystem::path& scene);

}  // namespace standpoint
