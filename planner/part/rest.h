#pragma once

#include <vector>

#include "standpoint/shapes.h"

namespace standpoint {

/// A way in which a part can stand on a floor by itself: flat, and without tipping.
struct Rest {
  Vec3 down = -Vec3::UnitZ();  ///< in the mesh's frame, unit: what then points to the floor
  double area = 0;             ///< of the flat faces that touch the floor, mm²
};

/// The ways in which a part can stand, that on the largest flat area first; equal areas in the
/// order of the mesh's triangles. A way counts when all of the part lies on one side of the plane
/// of a flat face, and the centre of the part's volume stands over the convex hull of what touches
/// the floor (of its surface, where the mesh encloses no volume). Directions within
/// tolerance::kAxisSnap of an axis are that axis. At most some hundred of the largest flat faces
/// are looked at: a round side made of thousands of strips gives no thousands of ways.
/// mm; any frame. Empty for an empty mesh. Pure; O(n log n) for n triangles, times the flat faces
/// looked at.
[[nodiscard]] std::vector<Rest> ways_to_stand(const Mesh& mesh);

}  // namespace standpoint
