#pragma once

#include <vector>

#include "geometry/vec.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Whether a point lies in or on a simple polygon of either orientation, by exact predicates.
/// Precondition: at least 3 corners. O(corners).
[[nodiscard]] bool is_in_polygon(const std::vector<Vec2>& polygon, const Vec2& point);

/// Whether a zone has a place there: in or on its polygon, and neither in nor on a hole of it. In
/// doubt nobody stands at the edge of a pit. O(corners).
[[nodiscard]] bool is_place_of(const Zone& zone, const Vec2& point);

/// The first keep-out that the point is in or on, seen from above; null where it is over none.
/// O(corners).
[[nodiscard]] const KeepOut* keep_out_under(const Scene& scene, const Vec2& point);

}  // namespace standpoint
