#include "io/scene/read_scene.h"

#include "io/scene/parse_scene.h"

namespace standpoint {

tl::expected<ReadScene, Faults> read_scene(const std::filesystem::path& file) {
  return read_scene_with(file, read_body);
}

}  // namespace standpoint
