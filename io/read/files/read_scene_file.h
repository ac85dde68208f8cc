#pragma once

#include <filesystem>

#include <tl/expected.hpp>

#include "io/read/scene/parse_scene.h"

namespace standpoint {

/// Reads a scene file with all that it names: other scenes, meshes and CAD files, lists. A packed
/// scene, all of it in one zip file (contract section 12), is unpacked into a temporary folder
/// first, which is gone afterwards; nothing outside of it is read.
///
/// Failure: every fault of all of them at once, as `read_scene_with` and `unpack_scene` tell them.
/// Throws std::filesystem::filesystem_error where the temporary folder cannot be written.
[[nodiscard]] tl::expected<SceneFile, Faults> read_scene_file(const std::filesystem::path& file);

}  // namespace standpoint
