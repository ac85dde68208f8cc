#pragma once

#include <optional>
#include <vector>

#include "planner/part/face.h"

namespace standpoint {

/// A point of a surface, and the surface's unit normal there.
struct SurfaceSample {
  Vec3 point;
  Vec3 normal;
};

/// The plane, cylinder, cone or sphere that a surface is in truth, whatever form its file gives it:
/// the simplest one of which no sample is farther off than `within` (mm, > 0). Nothing where there
/// is none, or where there are fewer than nine samples.
///
/// A plane's axis is the samples' normal; a cone's is the way it gets wider. Least squares over
/// points and normals: a plane's normals are one, a cylinder's are square to its axis, a cone's
/// planes all pass through its tip, a sphere's normals through its centre (derived here). O(n).
[[nodiscard]] std::optional<Surface> known_surface(const std::vector<SurfaceSample>& samples,
                                                   double within);

}  // namespace standpoint
