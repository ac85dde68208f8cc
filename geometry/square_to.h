#pragma once

#include "standpoint/shapes.h"

namespace standpoint {

/// `direction` made square to the unit vector `axis`, a unit vector. Precondition: they are not
/// parallel, and `direction` has a length.
[[nodiscard]] inline Vec3 square_to(const Vec3& axis, const Vec3& direction) {
  return (direction - direction.dot(axis) * axis).normalized();
}

}  // namespace standpoint
