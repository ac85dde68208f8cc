#pragma once

#include <vector>

#include "planner/segmentation/region.h"

namespace standpoint {

/// One surface of the part, or a stretch that is none of those that are fitted.
struct Stretch {
  Surface surface;
  bool hollow = false;
  double step_rad = 0;  ///< as of a Region
};

/// Which stretch each triangle belongs to.
struct Labels {
  std::vector<Stretch> stretches;
  std::vector<std::uint32_t> of_triangle;
  double chord = 0;  ///< how far sides' middles are off round surfaces at most, mm
};

/// Names a stretch for every patch: the round regions as they are, flat patches as planes, and what
/// is left, joined where it bends smoothly, as `other`.
///
/// A flat patch is a facet and no plane where it bends gently towards another and the arc that
/// would round off both lies within the chord that the mesh is cut with: that of its round regions,
/// or `tolerance::kChordShare` of its size. O(n log n). Pure.
[[nodiscard]] Labels label_patches(const PatchedMesh& in, const std::vector<Region>& rounds);

/// Moves triangles along the borders to the stretch beside that they fit better, and slivers that
/// scatter has torn out of a surface back into it; joins neighbours that lie on one surface; makes
/// each stretch connected; fits all anew. A few sweeps of O(n). Pure.
void settle_borders(const PatchedMesh& in, Labels& labels);

/// The triangles of each stretch, ascending.
[[nodiscard]] std::vector<std::vector<std::uint32_t>> triangles_of(const Labels& labels);

/// The surface fitted anew to points; as it was where that fails.
[[nodiscard]] Surface refitted(const Surface& surface, std::span<const Vec3> points);

}  // namespace standpoint
