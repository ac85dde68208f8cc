#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

enum class PolygonDefect {
  repeated_corner,  ///< two corners at exactly the same place
  flat,             ///< all corners in one line
  crosses,          ///< two edges that are not neighbours meet, or neighbours overlap
};

struct PolygonFinding {
  PolygonDefect defect = PolygonDefect::flat;
  /// For `repeated_corner`: the two, the second being the first in the list that repeats another.
  std::size_t first = 0, second = 0;
};

/// Why the closed polygon through `corners` (mm, finite, either orientation) is not simple; nothing
/// where it is. Decided with exact predicates. Precondition: three corners or more. O(n log n).
[[nodiscard]] std::optional<PolygonFinding> find_polygon_defect(const std::vector<Vec2>& corners);

/// The polygon's area, mm^2, never negative. Precondition: simple. O(n).
[[nodiscard]] double polygon_area(const std::vector<Vec2>& corners);

}  // namespace standpoint
