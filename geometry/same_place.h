#pragma once

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

/// Makes vertices at exactly the same place one, and leaves out those that no triangle uses. The
/// vertices that stay keep their order; triangles, their order and their faces stay as they are, so
/// the surface is the same set of points. Precondition: triangle indices in range. O(n) expected.
void join_equal_vertices(Mesh& mesh);

}  // namespace standpoint
