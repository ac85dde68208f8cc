#include "io/use/check_scene.h"

#include <utility>

#include "io/read/files/read_scene_file.h"

namespace standpoint {

Answered<CheckAnswer> check_scene(const Request& request, const Attendant& attendant) {
  attendant.say("reading the scene and its meshes");
  auto read = read_scene_file(request.scene);
  if (!read) return wrong_input(std::move(read.error()));
  if (attendant.watch.is_interrupted()) return interrupted();
  attendant.say("looking for the usual mistakes");
  Cell cell(read->scene, read->meshes);
  std::vector<Trap> traps = find_traps(cell);
  if (attendant.watch.is_interrupted()) return interrupted();
  return CheckAnswer{std::move(*read), std::move(cell), std::move(traps)};
}

}  // namespace standpoint
