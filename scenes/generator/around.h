#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

namespace standpoint::scenes {

/// What a scene round a part came to.
struct AroundScene {
  std::string failed;  ///< empty on success
  std::size_t features = 0;
  std::size_t hidden = 0;  ///< of them: not required, for nothing is expected to see them
};

/// Writes `folder`/scene.json: the part in `step` (any STEP file; a wide, flat part such as a ring
/// suits best) generated 600 mm above the floor, some `wanted` features read off its faces (points,
/// planes, bores, holes) that look free from the floor round it, a few more that do not and are not
/// required, zones on all four sides and in the
/// middle with two heights, and nests on posts and below the roof. The mesh is named by its
/// path relative to `folder`. All points lie on the CAD's own surfaces, normals out of the
/// material.
[[nodiscard]] AroundScene make_scene_around(const std::filesystem::path& step,
                                            const std::filesystem::path& folder,
                                            std::size_t wanted);

}  // namespace standpoint::scenes
