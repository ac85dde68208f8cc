#pragma once

#include <cstddef>

#include "standpoint/shapes.h"

namespace standpoint {

/// What is wrong with a mesh. Reported, never repaired: the tree takes any of it, except vertices
/// that are not finite.
struct MeshDefects {
  std::size_t open_edges = 0;     ///< edges of exactly one triangle, after joining equal vertices
  std::size_t crowded_edges = 0;  ///< edges of three or more triangles (non-manifold)
  std::size_t duplicate_triangles = 0;   ///< same three places as an earlier one, in any order
  std::size_t degenerate_triangles = 0;  ///< without area
  std::size_t non_finite_vertices = 0;

  [[nodiscard]] bool any() const {
    return open_edges + crowded_edges + duplicate_triangles + degenerate_triangles +
               non_finite_vertices >
           0;
  }
};

/// Counts the defects of a mesh. Vertices at exactly equal places are one, so a triangle with two
/// corners at one place is degenerate and has no edges; one whose three places stand in line
/// (within `tolerance::flat_height`) is degenerate and has three. A duplicate's edges count again.
/// Vertices that no triangle uses count only as not finite. Precondition: triangle indices in
/// range. O(n) expected time for meshes whose vertices have few triangles each, about 100 bytes a
/// triangle.
[[nodiscard]] MeshDefects find_defects(const Mesh& mesh);

}  // namespace standpoint
