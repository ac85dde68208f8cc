#pragma once

#include "planner/segmentation/region.h"

namespace standpoint {

/// Leaves out round regions that are stretches of something else: rows of a torus are cones, and
/// every small part of a free-form surface is nearly some round.
///
/// Such a region goes on smoothly where it ends. An edge does so where the arc that would round off
/// both sides rises no more than the region's own facets hide. A region that does along half of its
/// rim is left out, and so is a sphere of which there is too little to tell
/// (`tolerance::kLeastCap`). A cylinder that goes all the way round stays. O(n). Pure.
[[nodiscard]] std::vector<Region> without_free_forms(const PatchedMesh& in,
                                                     std::vector<Region> rounds);

/// Whether a sphere's triangles are seen over a wide enough cap from its centre to tell it
/// (`tolerance::kLeastCap`).
[[nodiscard]] bool is_wide_cap(const JoinedMesh& mesh, const Surface& sphere,
                               const std::vector<std::uint32_t>& triangles);

/// How far an arc over a patch would rise that bends by `angle` at an edge of this length, mm.
[[nodiscard]] double rise_over(const Patch& patch, double length, double angle);

}  // namespace standpoint
