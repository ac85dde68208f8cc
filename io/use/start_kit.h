#pragma once

#include <vector>

#include "standpoint/scene.h"

namespace standpoint {

/// What `start` measures with until somebody says what there is. Every figure is invented: of the
/// usual size, but of no instrument or stylus that can be had. Lengths mm, angles rad.
struct StartKit {
  Instrument instrument;
  std::vector<FullTarget> full_targets;
  std::vector<OffsetStylus> offset_styli;
};
[[nodiscard]] StartKit start_kit();

}  // namespace standpoint
