#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>

#include <tl/expected.hpp>

#include "io/read/bodies/body_reader.h"
#include "io/read/text/fault.h"
#include "standpoint/scene.h"

namespace standpoint {

/// What a scene file gave: the scene, its bodies' surfaces, and what their files are like.
struct SceneFile {
  Scene scene;
  Meshes meshes;                   ///< for each body
  std::vector<BodyReport> bodies;  ///< for each body
};

/// Gives the mesh a request names, or one plain sentence why not: `read_body`, or a stand-in.
using BodyLoader = std::function<tl::expected<ReadBody, std::string>(const BodyRequest&)>;

/// Reads a scene from its JSON text (contract section 2, docs/scene.md).
///
/// `folder` is what mesh paths are relative to; `default_name` names a scene that does not name
/// itself. `load` is called once for each body whose path can be read, in the file's order, also
/// where other faults are known already: a missing mesh is told together with the rest.
/// Gives the scene in mm, rad and unit vectors, or every fault in document order; never both, never
/// neither. Pure apart from `load`. O(n log n) for n bytes.
[[nodiscard]] tl::expected<SceneFile, Faults> parse_scene(const std::string& text,
                                                          const std::filesystem::path& folder,
                                                          const std::string& default_name,
                                                          const BodyLoader& load);

/// A file's text, at most kMostSceneBytes, or a fault whose `where` is its path and whose `nearest`
/// is a file beside it that was most likely meant. `thing` says what it should be: "a scene file".
[[nodiscard]] tl::expected<std::string, Faults> text_of_file(const std::filesystem::path& file,
                                                             std::string_view thing);

/// `parse_scene` on a file's text; what keeps the file from being read, or is wrong with the whole
/// document, is a fault whose `where` is its path. The default name is the file's, without folder
/// and extension.
[[nodiscard]] tl::expected<SceneFile, Faults> read_scene_with(const std::filesystem::path& file,
                                                              const BodyLoader& load);

/// `read_scene_with` the mesh files themselves.
[[nodiscard]] tl::expected<SceneFile, Faults> read_scene_file(const std::filesystem::path& file);

}  // namespace standpoint
