#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "geometry/placement.h"

namespace standpoint {

// The parts of a packed mesh, each with the coding that suits it. Every coding is lossless and
// checked: what does not come back bit by bit is sent as it is. Numbers are little-endian.

struct PackedPart {
  const char* coding = "plain";  ///< "plain": as it is; else the reader's name for how to decode
  std::string bytes;
};

struct PackedVertices {
  /// "float" and "double": meshopt's vertex codec over three numbers each. Floats are coordinates
  /// of the file, to be placed; doubles are places.
  PackedPart coordinates;
  /// Vertices that no float gives: number, and where they are.
  std::vector<std::pair<std::uint32_t, Vec3>> exceptions;
};
[[nodiscard]] PackedVertices pack_vertices(const std::vector<Vec3>& vertices,
                                           const Placement& placement);

struct PackedTriangles {
  /// "mesh": meshopt's index codec, which keeps the order of triangles but turns their corners.
  PackedPart indices;
  /// "turned": for each triangle, how many places its corners were turned, four triangles a byte.
  PackedPart turns;
};
[[nodiscard]] PackedTriangles pack_triangles(
    const std::vector<std::array<std::uint32_t, 3>>& triangles, std::size_t vertex_count);

/// Appends the bytes of a plain value.
template <class T>
void append(std::string& bytes, const T& value) {
  bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
}

}  // namespace standpoint
