#pragma once

#include <vector>

#include "io/read/scene/parse_scene.h"
#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "planner/traps/scene_traps.h"
#include "standpoint/cell.h"

namespace standpoint {

/// `check`: a valid scene, and the usual mistakes in it that are no faults.
struct CheckAnswer {
  SceneFile read;
  Cell cell;  ///< of the same scene
  std::vector<Trap> traps;
};

/// Faults: those of the scene and of all that it names.
[[nodiscard]] Answered<CheckAnswer> check_scene(const Request& request, const Attendant& attendant);

}  // namespace standpoint
