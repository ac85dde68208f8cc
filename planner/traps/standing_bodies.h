#pragma once

#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// For each body the bodies that it touches: that come within `gap` (mm) of it. Edges of each are
/// held against the surface of the other, so that neither crossing bodies nor faces that lie on one
/// another are missed. Ascending; never the body itself.
/// O(edges near other bodies * log triangles).
[[nodiscard]] std::vector<std::vector<BodyId>> touching_bodies(const Cell& cell, double gap);

/// All bodies that hang together with `first` by touching, itself among them; ascending.
[[nodiscard]] std::vector<BodyId> group_of(const std::vector<std::vector<BodyId>>& touching,
                                           BodyId first);

}  // namespace standpoint
