#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "geometry/vec.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// No triangle, side or region.
inline constexpr std::uint32_t kNobody = std::numeric_limits<std::uint32_t>::max();

/// A mesh whose triangles know their neighbours. Side 3 t + k runs from corner k of triangle t to
/// the next one.
struct JoinedMesh {
  std::vector<Vec3> vertices;  ///< mm, each place once, in the order of their coordinates
  std::vector<std::array<std::uint32_t, 3>> triangles;  ///< seen from outside, counter-clockwise
  std::vector<std::uint32_t> across;  ///< for each side the one that lies on it the other way round
  std::vector<Vec3> area_vectors;     ///< along the outward normal, as long as the area, mm²
  std::vector<std::uint32_t> pieces;  ///< for each triangle its connected piece, from 0

  [[nodiscard]] std::uint32_t corner(std::size_t side) const {
    return triangles[side / 3][side % 3];
  }
  /// The end of a side.
  [[nodiscard]] std::uint32_t end(std::size_t side) const {
    return triangles[side / 3][(side % 3 + 1) % 3];
  }
};

/// Joins vertices at equal places and finds who lies beyond each side.
///
/// Triangles that collapse to a line or point by that, and second ones of the same corners and
/// sense, are left out. Each piece is turned so that its triangles agree, the way that most of its
/// area has in the file; where the closed whole then has a negative volume, all is turned round. At
/// a side where more than two triangles meet, those are neighbours that enclose the least material
/// between them. The answer is the same in whatever order the triangles and corners come.
/// Precondition: indices in range, vertices finite. O(n log n), some 150 bytes a triangle. Pure.
[[nodiscard]] JoinedMesh join_triangles(const Mesh& mesh);

}  // namespace standpoint
