#pragma once

#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// Whether a point lies in or on a simple polygon of either orientation, by exact predicates.
/// Precondition: at least 3 corners. O(corners).
[[nodiscard]] bool is_in_polygon(const std::vector<Vec2>& polygon, const Vec2& point);

}  // namespace standpoint
