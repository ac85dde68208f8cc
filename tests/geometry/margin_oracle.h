#pragma once

#include <array>
#include <vector>

#include "geometry/round_cone.h"
#include "standpoint/shapes.h"

namespace standpoint::test {

// What the engine is held against. It shares the definition of a margin with the engine, and no
// code: distances come from CGAL in long double, the minimum along the axis from golden section.
// The margin at t, distance(t) - radius(t), is convex in t (the distance from a moving point on a
// line to a convex set is convex, the radius is linear), so that golden section finds the minimum.

/// Where a margin is least.
struct Least {
  double margin = 0;
  double along = 0;
};

/// Least margin of one triangle, to about 1e-15 of the largest coordinate.
[[nodiscard]] Least least_margin(const RoundCone& cone, const std::array<Vec3, 3>& triangle);

/// Least margin over all triangles of all meshes; infinite where there is none. Looks at every
/// triangle, and leaves out only those whose bounding ball is too far away to matter.
[[nodiscard]] double least_margin(const RoundCone& cone, const std::vector<Mesh>& meshes);

/// Distance from a point to a triangle.
[[nodiscard]] double distance(const Vec3& point, const std::array<Vec3, 3>& triangle);

/// The first t at which distance - radius falls below `margin`, given the t where it is least.
[[nodiscard]] double first_below(const RoundCone& cone, const std::array<Vec3, 3>& triangle,
                                 double along_least, double margin);

/// Greatest |coordinate| of the cone's ends and the meshes, mm: what error bounds grow with.
[[nodiscard]] double reach_of(const RoundCone& cone, const std::vector<Mesh>& meshes);

}  // namespace standpoint::test
