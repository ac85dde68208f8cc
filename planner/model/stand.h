#pragma once

#include <optional>

#include "standpoint/cell.h"

namespace standpoint {

/// The first body, in the scene's order, that the upright cylinder of the instrument and its stand
/// cuts or touches where the measuring centre is `at` (world, mm). A cylinder without size is that
/// point: a mesh through it is in the way. O(the tree's height + triangles near the cylinder); safe
/// from many threads.
[[nodiscard]] std::optional<BodyId> body_in_the_way(const Cell& cell, const Vec3& at);

}  // namespace standpoint
