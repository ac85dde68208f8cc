#pragma once

#include <optional>
#include <string>

#include "standpoint/shapes.h"

namespace standpoint {

/// What the mesh's file calls the face that `triangle` belongs to; nothing where it has no faces.
[[nodiscard]] inline std::optional<std::string> face_name(const Mesh& mesh, TriangleId triangle) {
  if (triangle.index >= mesh.face_of_triangle.size()) return std::nullopt;
  const std::uint32_t face = mesh.face_of_triangle[triangle.index];
  if (face >= mesh.face_names.size()) return std::nullopt;
  return mesh.face_names[face];
}

}  // namespace standpoint
