#pragma once

#include <vector>

#include "planner/segmentation/region.h"

namespace standpoint {

/// How many deviations the mean distance of some vertices from a surface is off none, and to which
/// side (positive: that of `outward`); 0 where it is off by less than `tolerance::kLayerOff`.
[[nodiscard]] double bias_of(const PatchedMesh& in, const Surface& surface,
                             const std::vector<std::uint32_t>& vertices);

/// Whether a vertex is off to the side of `bias` by twice the scatter or more.
[[nodiscard]] bool is_off_with(const PatchedMesh& in, const Surface& surface, std::uint32_t vertex,
                               double bias);

/// The triangles of a region without the layer along one of its rims whose vertices lie on one side
/// of the surface more than scatter lets them: a row of what the surface is tangent to. Of it go
/// the triangles at vertices that are off by twice the scatter, since large ones reach the rim,
/// too. All stay where there is no such layer, or where more than `tolerance::kLayerShare` of the
/// area would go with it.
///
/// A layer is told by the mean of its rim's distances, which is far surer than each one: of k
/// vertices it scatters by 1 / sqrt(k). Precondition: `triangles` ascending, `in.is_scattered`.
/// O(n log n). Pure.
[[nodiscard]] std::vector<std::uint32_t> peeled(const PatchedMesh& in, const Surface& surface,
                                                const std::vector<std::uint32_t>& triangles);

}  // namespace standpoint
