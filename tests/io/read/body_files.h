#pragma once

// Files for the tests of the body reader: made on the spot, or found where they may be.

#include <filesystem>
#include <optional>
#include <string>

#include "io/read/bodies/body_reader.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// A folder of its own for each test, gone afterwards.
class TestFolder {
 public:
  TestFolder();
  ~TestFolder();
  TestFolder(const TestFolder&) = delete;
  TestFolder& operator=(const TestFolder&) = delete;

  [[nodiscard]] std::filesystem::path operator/(const std::string& name) const {
    return path_ / name;
  }
  /// Writes a file with just these bytes.
  std::filesystem::path write(const std::string& name, const std::string& bytes) const;

 private:
  std::filesystem::path path_;
};

/// Reads with everything at its default.
[[nodiscard]] tl::expected<ReadBody, std::string> read_plainly(const std::filesystem::path& file);

/// What the file holds; where it cannot be read the test fails, and the body is empty.
[[nodiscard]] ReadBody read_well(const BodyRequest& request);

/// The open data beside the project, where it is there.
[[nodiscard]] std::optional<std::filesystem::path> shared_data(const std::string& name);

/// A block from (1, 2, 3) to (3, 5, 7): twelve triangles whose corners are small whole numbers,
/// which every format holds exactly.
[[nodiscard]] Mesh block();
/// The same, as the bytes of a file.
[[nodiscard]] std::string block_as_stl_text();
[[nodiscard]] std::string block_as_stl_binary();
[[nodiscard]] std::string block_as_obj();
[[nodiscard]] std::string block_as_ply_text();
[[nodiscard]] std::string block_as_ply_binary();
[[nodiscard]] std::string block_as_off();
[[nodiscard]] std::string block_as_gltf();
/// The same with its numbers in a file of their own, `uri`, which holds `gltf_buffer()`.
[[nodiscard]] std::string block_as_gltf(const std::string& uri);
[[nodiscard]] std::string gltf_buffer();
/// `unit` as in <unit meter="0.01"/>, empty for none; `up` as in Z_UP.
[[nodiscard]] std::string block_as_collada(const std::string& unit, const std::string& up);
/// `unit` as in unit="inch", empty for none.
[[nodiscard]] std::string block_as_amf(const std::string& unit);
[[nodiscard]] std::string block_as_fbx(double centimetres_per_unit);

/// Expects the same places in every triangle, each triangle begun and ordered as it may be.
void expect_same_surface(const Mesh& found, const Mesh& expected, double scale,
                         const std::string& what);

}  // namespace standpoint
