#pragma once

#include <vector>

#include "planner/segmentation/joined_mesh.h"

namespace standpoint {

/// A patch beside another, and the length of the edge between them, mm.
struct Beside {
  std::uint32_t patch = kNobody;
  double length = 0;
};

/// Connected triangles that are flat but for scatter.
struct Patch {
  Vec3 area = Vec3::Zero();              ///< sum of the area vectors, mm²
  Vec3 middle = Vec3::Zero();            ///< mean of its vertices
  std::vector<std::uint32_t> triangles;  ///< ascending
  std::vector<std::uint32_t> vertices;   ///< ascending
  std::vector<Beside> beside;            ///< longest edge first
};

struct Patches {
  std::vector<Patch> all;
  std::vector<std::uint32_t> of_triangle;
};

/// Joins triangles to patches, the flattest pair of neighbours first, as long as one plane fits
/// both as well as two planes did: the sum of squared distances grows by no more than what scatter
/// makes of it (Ward, J. Amer. Stat. Assoc. 58, 1963; on meshes: Garland, Willmott and Heckbert,
/// Symp. Interactive 3D Graphics 2001). On a curved surface the patches are as wide as scatter
/// hides its curvature; without scatter they are its facets.
///
/// `scatter`: standard deviation of the vertices, mm, > 0. O(n log n) for usual meshes. Pure.
[[nodiscard]] Patches find_flat_patches(const JoinedMesh& mesh, double scatter);

}  // namespace standpoint
