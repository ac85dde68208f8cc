#pragma once

#include <vector>

#include "planner/part/found_feature.h"
#include "planner/part/round_wall.h"

namespace standpoint {

/// The slots that pairs of hollow half rounds make which face each other with planes between;
/// without names. `taken` gets the faces that belong to what was found.
[[nodiscard]] std::vector<FoundFeature> find_slots(const PartFaces& part,
                                                   const std::vector<RoundWall>& cylinders,
                                                   std::vector<bool>& taken);

}  // namespace standpoint
