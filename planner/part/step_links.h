#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "planner/part/round_wall.h"

namespace standpoint {

/// Which wall follows another one at one of its ends.
struct StepLink {
  std::optional<std::size_t> wall;   ///< index; nothing where none follows
  std::vector<std::size_t> between;  ///< the faces that lead from one to the other
};

/// What follows each wall.
struct StepLinks {
  std::vector<StepLink> low, high;
};

/// Links coaxial hollow cylinders that follow one another in one hole: from the end of one that
/// leads outward, over planes square to the axis, cones, tori and balls about it and tangent
/// rounds, to the end of another that leads inward. Each end has one link at most, to the nearest.
[[nodiscard]] StepLinks link_steps(const PartFaces& part, const std::vector<RoundWall>& walls);

/// Whether a face is one of revolution about the axis: square to it, or a cone, torus or ball.
[[nodiscard]] bool is_about(const Face& face, const Axis& axis, double slack);

}  // namespace standpoint
