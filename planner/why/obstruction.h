#pragma once

#include <vector>

#include "standpoint/cell.h"
#include "standpoint/why.h"

namespace standpoint {

/// All bodies that come nearer to `solid` than `margin`, each once, nearest along the axis first:
/// taking one away may uncover the next. O(triangles in the solid).
[[nodiscard]] std::vector<Obstruction> obstructions(const Cell& cell, const RoundCone& solid,
                                                    double margin);

}  // namespace standpoint
