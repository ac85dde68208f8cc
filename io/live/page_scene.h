#pragma once

#include <string>
#include <string_view>

#include "planner/scene.h"

namespace standpoint {

/// The scene as the page carries it: JSON that mirrors planner/scene.h member for member, in mm and
/// rad, every number exact. Of the meshes only the sizes and the names of faces; mesh_pack.h
/// carries the rest. Names are made well-formed UTF-8. Same scene, same bytes. O(scene without
/// meshes).
[[nodiscard]] std::string page_scene(const Scene& scene);

/// The scene that page_scene() wrote, its meshes of the right size but all zero. Throws
/// std::exception where `json` is not what it writes: a damaged page.
[[nodiscard]] Scene read_page_scene(std::string_view json);

}  // namespace standpoint
