#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "geometry/vec.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// For each point the index of the first point at exactly the same place (itself, where it is the
/// first). -0 and 0 are the same place; a coordinate that is not a number equals itself only bit
/// for bit. Precondition: fewer than 2^32 - 1 points. O(n) expected time, 12 to 20 bytes a point.
/// The answer depends on the points and their order alone.
[[nodiscard]] std::vector<std::uint32_t> first_at_same_place(std::span<const Vec3> points);

/// The triangles of a mesh, each corner given by the first vertex at its place: triangles that meet
/// share numbers, whether or not the file joined them. Their order stays. Precondition: triangle
/// indices in range. O(n) expected.
[[nodiscard]] std::vector<std::array<std::uint32_t, 3>> joined_triangles(const Mesh& mesh);

/// Whether two corners of a triangle are one.
[[nodiscard]] inline bool is_collapsed(const std::array<std::uint32_t, 3>& corners) {
  return corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0];
}

/// Makes vertices at exactly the same place one, and leaves out those that no triangle uses. The
/// vertices that stay keep their order; triangles, their order and their faces stay as they are, so
/// the surface is the same set of points. Precondition: triangle indices in range. O(n) expected.
void join_equal_vertices(Mesh& mesh);

}  // namespace standpoint
