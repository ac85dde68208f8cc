#pragma once

#include <cstddef>
#include <vector>

#include "planner/part/face.h"

namespace standpoint {

/// Points inside a flat face, apart from one another and off its rims: four, and one more for each
/// 250 mm of its span, up to nine. None where the rims enclose nothing. `rims` are the points of
/// each closed round, in `plane`. Each point is inside by an odd number of rims about it. O(n m)
/// for n points of the rims and m, some 300, tries.
[[nodiscard]] std::vector<Vec3> points_inside(const Surface& plane,
                                              const std::vector<std::vector<Vec3>>& rims);

}  // namespace standpoint
