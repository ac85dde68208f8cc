#pragma once

#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "standpoint/shapes.h"

namespace standpoint::bench {

/// Writes the triangles of all meshes as one binary STL file: 80 bytes of title, the count, then 50
/// bytes a triangle. Throws std::runtime_error where it cannot be written.
inline void write_stl(const std::vector<Mesh>& meshes, const std::filesystem::path& file) {
  std::ofstream out(file, std::ios::binary);
  const auto put = [&](const auto& value) {
    out.write(reinterpret_cast<const char*>(&value), sizeof value);
  };
  const char title[80] = "a made fuselage";
  put(title);
  std::uint32_t count = 0;
  for (const Mesh& mesh : meshes) count += static_cast<std::uint32_t>(mesh.triangles.size());
  put(count);
  for (const Mesh& mesh : meshes) {
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
      for (int n = 0; n < 3; ++n) put(0.0f);
      for (const Vec3& corner : mesh.corners(i)) {
        for (int axis = 0; axis < 3; ++axis) put(static_cast<float>(corner[axis]));
      }
      put(std::uint16_t{0});
    }
  }
  if (!out.flush()) throw std::runtime_error("cannot write " + file.string());
}

}  // namespace standpoint::bench
