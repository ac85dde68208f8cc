#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// The scene as the page carries it: JSON that mirrors standpoint/scene.h member for member, in mm
/// and rad, every number exact, and with each body how large its mesh is and what its faces are
/// called; mesh_pack.h carries the rest. Names are made well-formed UTF-8. Same
/// scene, same bytes. O(scene without meshes).
[[nodiscard]] std::string page_scene(const Cell& cell);

/// A scene with room for its meshes: of the right size but all zero.
struct PageScene {
  Scene scene;
  std::vector<Mesh> meshes;  ///< one for each body
};

/// What page_scene() wrote. Throws std::exception where `json` is not what it writes: a damaged
/// page.
[[nodiscard]] PageScene read_page_scene(std::string_view json);

}  // namespace standpoint
