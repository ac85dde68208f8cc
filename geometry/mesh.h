#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// A triangle mesh: a surface, not a solid. Nothing is assumed of it: it may be open, overlap
/// itself or hold degenerate triangles (see mesh_defects.h).
struct Mesh {
  /// World frame, mm, all finite.
  std::vector<Vec3> vertices;
  /// Three indices into `vertices` each.
  std::vector<std::array<std::uint32_t, 3>> triangles;
  /// Empty, or for each triangle the number of its face in the file (an index into `face_names`).
  std::vector<std::uint32_t> face_of_triangle;
  /// What the file calls its faces or groups ("face 17" where it has no name).
  std::vector<std::string> face_names;

  [[nodiscard]] std::array<Vec3, 3> corners(std::size_t triangle) const {
    const auto& t = triangles[triangle];
    return {vertices[t[0]], vertices[t[1]], vertices[t[2]]};
  }
};

}  // namespace standpoint
