#include "standpoint/read_scene.h"

#include <utility>

#include "io/read/files/read_scene_file.h"

namespace standpoint {

tl::expected<ReadScene, Faults> read_scene(const std::filesystem::path& file) {
  auto read = read_scene_file(file);
  if (!read) return tl::unexpected(std::move(read.error()));
  return ReadScene{std::move(read->scene), std::move(read->meshes)};
}

}  // namespace standpoint
