#include "io/read/files/read_scene_file.h"

#include "io/read/files/unpacked_scene.h"

namespace standpoint {

tl::expected<SceneFile, Faults> read_scene_file(const std::filesystem::path& file) {
  SceneSources sources{read_body};
  if (!is_packed_scene(file)) return read_scene_with(file, sources);
  const auto unpacked = unpack_scene(file);
  if (!unpacked) return tl::unexpected(unpacked.error());
  sources.within = unpacked->folder();
  sources.within_shown = file.string();
  return read_scene_with(unpacked->scene(), sources);
}

}  // namespace standpoint
