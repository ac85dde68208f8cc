#pragma once

#include "planner/segmentation/joined_mesh.h"

namespace standpoint {

/// The standard deviation of the vertices' scatter about smooth surfaces, mm, never below
/// `tolerance::least_scatter` of the mesh's size.
///
/// Two triangles that share a side have four corners. How far these are from one plane, divided by
/// what unit scatter of each would make of it (the length of its gradient; derived here), has the
/// scatter's own deviation where the surface is flat. Scatter bends as often one way as the other
/// and curvature does not, so only as many bends of either way are taken as the rarer way has.
/// Edges are far off: the estimate is that of a normal distribution cut at 2.5 deviations, iterated
/// from the lower quartile. O(n log n). Pure.
[[nodiscard]] double estimate_scatter(const JoinedMesh& mesh);

/// Length of the diagonal of the box round all vertices, mm.
[[nodiscard]] double diagonal(const JoinedMesh& mesh);

}  // namespace standpoint
