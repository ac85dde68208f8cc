#include "io/read/scene/parse_scene.h"

namespace standpoint {

tl::expected<SceneFile, Faults> read_scene_file(const std::filesystem::path& file) {
  return read_scene_with(file, read_body);
}

}  // namespace standpoint
