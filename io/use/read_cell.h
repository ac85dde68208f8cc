#pragma once

#include "io/read/scene/parse_scene.h"
#include "io/use/answered.h"
#include "io/use/attendant.h"
#include "io/use/request.h"
#include "standpoint/cell.h"

namespace standpoint {

/// What the scene file that a request names holds, before the tree over its bodies is built: what
/// else the request names is checked against it first. Faults: those of the file.
[[nodiscard]] Answered<SceneFile> read_scene_of(const Request& request, const Attendant& attendant);

/// The scene file that a request names, among its bodies. Faults: those of the file.
[[nodiscard]] Answered<Cell> read_cell(const Request& request, const Attendant& attendant);

}  // namespace standpoint
