#pragma once

#include <optional>

#include "standpoint/cell.h"

namespace standpoint {

/// The elevation of a point as the instrument sees it: the angle above the plane through its
/// measuring centre across its standing axis, rad, -pi/2..pi/2. The same numbers wherever this
/// source is compiled; along the scene's axes no rounding comes from the turn. O(1).
[[nodiscard]] double elevation_of(const Stance& stance, const Vec3& point);

/// The first body, in the scene's order, that the cylinder of the instrument and its stand, about
/// its standing axis, cuts or touches (world, mm). A cylinder without size is the measuring centre:
/// a mesh through it is in the way. O(the tree's height + triangles near the cylinder); safe from
/// many threads.
[[nodiscard]] std::optional<BodyId> body_in_the_way(const Cell& cell, const Stance& stance);

}  // namespace standpoint
