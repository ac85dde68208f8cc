#pragma once

#include "planner/segmentation/labels.h"

namespace standpoint {

/// Puts the axis of a cylinder or cone square to a plane at its end, and a plane square to one four
/// times as large beside it, where their own vertices do not speak against that: what a short wall
/// says of its direction is little more than scatter, and the plane says more. The sum of squares
/// may grow by what two numbers less leave of scatter
/// (`tolerance::kSquareGrowth`). The largest plane that the wall ends in is tried first. O(n).
/// Pure.
void square_axes(const PatchedMesh& in, Labels& labels);

}  // namespace standpoint
