#pragma once

#include <cstddef>
#include <vector>

#include "planner/surface/raise_touches.h"

namespace standpoint {

/// What `surface_places` found.
struct SurfacePlaces {
  std::vector<PointFeature> places;  ///< by x, y, z, then by normal
  bool is_too_many = false;          ///< more than `most`; `places` then says nothing
};

/// How large the box round what is selected is, from corner to corner, mm; 0 where nothing is.
/// O(triangles).
[[nodiscard]] double size_of(const Mesh& mesh, const SurfaceSelection& selection);

/// Where lines parallel to the axes, `step` apart, meet the selected part of a mesh, each triangle
/// along the axis that its normal is nearest to; not more than `most`. `raise_touches` says what
/// the answer depends on. O(triangles + lines tried), at most 20 times `most` lines.
[[nodiscard]] SurfacePlaces surface_places(const Mesh& mesh, const SurfaceSelection& selection,
                                           double step, std::size_t most);

}  // namespace standpoint
