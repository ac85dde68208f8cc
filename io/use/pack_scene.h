#pragma once

#include <vector>

#include "io/read/files/scene_pieces.h"
#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"

namespace standpoint {

/// `pack`: a scene with all that it names, as it goes into one file.
struct PackAnswer {
  std::vector<ScenePiece> pieces;  ///< in order of their names
  std::size_t bodies = 0, features = 0, nests = 0;
};

/// Faults: those of the scene and of all that it names. A packed scene can be packed again.
[[nodiscard]] Answered<PackAnswer> pack_scene(const Request& request, const Attendant& attendant);

}  // namespace standpoint
