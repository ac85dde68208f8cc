#pragma once

#include <optional>
#include <vector>

#include "geometry/vec.h"
#include "standpoint/scene.h"

namespace standpoint {

/// A change of how a part is placed, tried against touches that lie on no surface.
struct PlacementTrial {
  double scale = 1;
  Vec3 turn_deg = Vec3::Zero();  ///< about fixed x, then y, then z; before the part's own turn
  double share = 0;              ///< of the touches that then lie on the part
};

/// The change that brings most of `strays` (mm, not empty) onto the part, if it brings nine in ten:
/// of equal ones the first of: a scale alone, a turn alone, both. `mesh` stands in the scene as
/// `placement` says. A turn is tried only where `placement` turns about z at most, since it could
/// not be said in the pose's angles otherwise. O(n log n) in triangles, to build a tree.
[[nodiscard]] std::optional<PlacementTrial> best_trial(const Mesh& mesh, const Placement& placement,
                                                       const std::vector<Vec3>& strays);

}  // namespace standpoint
