#pragma once

#include "standpoint/shapes.h"

namespace standpoint {

/// Written out, so that program and page round alike at every step: a mesh is sent to the page as
/// its file's coordinates, and must come out as the same numbers.
[[nodiscard]] inline Vec3 placed(const Placement& placement, const Vec3& coordinates) {
  const double x = placement.mm_per_coordinate * coordinates.x();
  const double y = placement.mm_per_coordinate * coordinates.y();
  const double z = placement.mm_per_coordinate * coordinates.z();
  const Mat3& turn = placement.turn;
  Vec3 place;
  for (Eigen::Index i = 0; i < 3; ++i)
    place[i] = ((turn(i, 0) * x + turn(i, 1) * y) + turn(i, 2) * z) + placement.shift[i];
  return place;
}

}  // namespace standpoint
