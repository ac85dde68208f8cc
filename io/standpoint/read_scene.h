#pragma once

#include <filesystem>

#include <tl/expected.hpp>

#include "standpoint/faults.h"
#include "standpoint/scene.h"

/// \file
/// From a scene file to a scene.

namespace standpoint {

/// A scene and the surfaces of its bodies, as Cell takes them.
struct ReadScene {
  Scene scene;    ///< mm and rad, whatever unit the file has; validated
  Meshes meshes;  ///< one for each of `scene.bodies`, placed in the scene's frame; none is null
};

/// Reads and validates a scene file with the scenes, lists and meshes that it names, relative to
/// its own folder; or a packed scene, all of it in one zip file (docs/scene.md, contract sections
/// 2, 8 and 12).
///
/// Failure: every fault of the input at once, at least one; nothing is half read. Throws
/// std::bad_alloc, and std::filesystem::filesystem_error where a packed scene cannot be unpacked
/// into the folder for temporary files. Meshes and CAD files are read by child processes of this
/// one (`fork`), so that a file that crashes its reader is a fault like any other. O(n log n) in
/// triangles. Safe to call from many threads, as far as `fork` is in a program with threads. POSIX.
[[nodiscard]] tl::expected<ReadScene, Faults> read_scene(const std::filesystem::path& file);

}  // namespace standpoint
