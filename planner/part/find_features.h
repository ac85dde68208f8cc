#pragma once

#include <vector>

#include "planner/part/face.h"
#include "planner/part/found_feature.h"

namespace standpoint {

/// What a search is told.
struct FindOptions {
  double holes_up_to = 60;  ///< mm; a hole wider than this is found as a cylinder
};

/// Finds what can be measured on a part: holes, slots, cylinders, cones, spheres and planes. What
/// each is, is told in docs/features.md.
///
/// Part's frame, mm, rad. A face whose numbers are not finite, or which has no rim where its kind
/// needs one, is passed over. What is found, its names and its order are the same whatever the
/// order of the faces, the loops and the edges, and whichever way round all loops of a face run.
/// O(n log n) in the edges' points for faces of usual rims. Safe from several threads.
[[nodiscard]] std::vector<FoundFeature> find_features(const PartFaces& part,
                                                      const FindOptions& options = {});

}  // namespace standpoint
