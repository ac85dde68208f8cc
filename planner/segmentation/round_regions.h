#pragma once

#include "planner/segmentation/region.h"

namespace standpoint {

/// Finds the cylinders, cones and spheres of a mesh.
///
/// Each patch with two of its neighbours gives one guess of each kind. A guess that holds these
/// three is fitted to their vertices and grown over all patches whose vertices it holds, fitted
/// anew each time it has doubled. Of a patch's guesses the one that grew largest stands; where two
/// grew alike, the one whose sides' middles are nearer to it, then the simpler one. Regions are
/// then taken the largest first, each without patches that are taken.
///
/// Facets alone do not tell a round from a prism. So a region needs more patches the wider each
/// turns (`tolerance::kWidestStep` and beside it), and its vertices must hold the surface with some
/// to spare. Regions come the largest first. O(n log n) for parts of few surfaces; free-form
/// surfaces cost a few guesses a patch. Pure.
[[nodiscard]] std::vector<Region> find_round_regions(const PatchedMesh& in);

}  // namespace standpoint
