#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "planner/part/face.h"
#include "planner/part/round_wall.h"

namespace standpoint {

/// So many rays stand about an axis, one a degree.
inline constexpr std::size_t kRays = 360;

/// From the axis outward, unit. Precondition: ray < kRays.
[[nodiscard]] Vec3 ray_direction(const Axis& axis, std::size_t ray);

/// Where a wall ends in the half plane of one ray.
struct RayEnd {
  double height = 0;
  const Edge* edge = nullptr;  ///< of the part; null at a cone's tip
};

/// A stretch of wall along the axis, without a gap that goes all the way round.
struct RayRun {
  std::vector<std::size_t> faces;  ///< that it consists of, ascending
  std::vector<std::size_t> rays;   ///< that meet it, ascending
  std::vector<RayEnd> low, high;   ///< its ends, in the order of `rays`
  double share = 0;                ///< greatest share of the rays that meet it at one height
};

/// The stretches of wall that the faces make, from the lowest up. `tip`: the height where faces
/// without a rim on one side end. Heights that are not farther apart than `slack` are one. O(n log
/// n) in the rims' points.
[[nodiscard]] std::vector<RayRun> runs_along_rays(const PartFaces& part,
                                                  const std::vector<std::size_t>& faces,
                                                  const Axis& axis, std::optional<double> tip,
                                                  double slack);

}  // namespace standpoint
