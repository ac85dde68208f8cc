#pragma once

#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// Where a plane is touched whose border alone is known: six points inside the border, on three
/// lines across it at a sixth, a half and five sixths of its width, each a tenth inside the longest
/// piece of its line that lies within (even-odd rule). Holes in the face are not known here.
/// `border` is closed by itself and is projected along `normal`. Nothing where the border has no
/// area to speak of. mm, any frame; the points lie in the plane through `at` square to `normal`.
/// O(n log n). (Derived here.)
[[nodiscard]] std::vector<Vec3> points_within(const std::vector<Vec3>& border, const Vec3& at,
                                              const Vec3& normal);

}  // namespace standpoint
