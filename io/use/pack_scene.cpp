#include "io/use/pack_scene.h"

#include <optional>
#include <utility>

#include "io/read/files/read_scene_file.h"
#include "io/read/files/unpacked_scene.h"

namespace standpoint {

Answered<PackAnswer> pack_scene(const Request& request, const Attendant& attendant) {
  attendant.say("reading the scene and its meshes");
  const auto read = read_scene_file(request.scene);
  if (!read) return wrong_input(read.error());
  if (attendant.watch.is_interrupted()) return interrupted();
  attendant.say("gathering its files");
  std::filesystem::path scene = request.scene;
  std::optional<UnpackedScene> unpacked;
  if (is_packed_scene(scene)) {
    auto again = unpack_scene(scene);
    if (!again) return wrong_input(std::move(again.error()));
    unpacked.emplace(std::move(*again));
    scene = unpacked->scene();
  }
  auto pieces = gather_scene(scene);
  if (!pieces) return wrong_input(std::move(pieces.error()));
  if (attendant.watch.is_interrupted()) return interrupted();
  PackAnswer answer{std::move(*pieces)};
  answer.bodies = read->scene.bodies.size();
  answer.features = read->scene.features.size();
  answer.nests = read->scene.nests.size();
  return answer;
}

}  // namespace standpoint
