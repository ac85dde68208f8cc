#pragma once

#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// Whether points are so nearly in one line that they fix no plane (`tolerance::kLineShare`); also
/// when all are one point. Any unit. Precondition: at least one. O(n).
[[nodiscard]] bool are_in_line(const std::vector<Vec3>& points);

}  // namespace standpoint
