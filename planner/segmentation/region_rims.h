#pragma once

#include "planner/part/face.h"
#include "planner/segmentation/labels.h"

namespace standpoint {

/// The rims of each stretch, with the stretch beyond each piece of them as `Edge::beyond`.
///
/// Points are the mesh's vertices, brought onto the fitted surfaces that meet there, so that
/// scatter does not stay in them; a vertex that this would move by more than three times `within`
/// stays. How an edge bends is the mean over its length, between the normals of the fitted
/// surfaces, or of the triangles beside it where nothing is fitted. O(n). Pure.
[[nodiscard]] std::vector<std::vector<Loop>> rims_of(const PatchedMesh& in, const Labels& labels);

}  // namespace standpoint
