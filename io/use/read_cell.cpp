#include "io/use/read_cell.h"

#include <utility>

#include "io/read/files/read_scene_file.h"

namespace standpoint {

Answered<SceneFile> read_scene_of(const Request& request, const Attendant& attendant) {
  attendant.say("reading the scene and its meshes");
  auto read = read_scene_file(request.scene);
  if (!read) return wrong_input(std::move(read.error()));
  return std::move(*read);
}

Answered<Cell> read_cell(const Request& request, const Attendant& attendant) {
  auto read = read_scene_of(request, attendant);
  if (!read) return tl::unexpected(std::move(read.error()));
  attendant.say("building the tree over all bodies");
  return Cell(std::move(read->scene), std::move(read->meshes));
}

}  // namespace standpoint
