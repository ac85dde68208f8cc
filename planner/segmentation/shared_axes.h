#pragma once

#include "planner/segmentation/labels.h"

namespace standpoint {

/// Puts each cone and cylinder on the axis of the largest cylinder beside it, where its vertices do
/// not speak against that: a drill tip is too short for scatter to leave it an axis of its own. The
/// sum of squared distances grows by no more than `tolerance::kSharedGrowth`. O(n log n). Pure.
void share_axes(const PatchedMesh& in, Labels& labels);

}  // namespace standpoint
