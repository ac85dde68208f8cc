#pragma once

#include <vector>

#include "planner/part/feature_names.h"

namespace standpoint {

/// The planes of a part: flat faces that are not `taken`, those that meet in one plane as one.
/// Without names. A sliver that no point fits into is none.
[[nodiscard]] std::vector<Placed> find_planes(const PartFaces& part,
                                              const std::vector<bool>& usable,
                                              const std::vector<bool>& taken);

}  // namespace standpoint
