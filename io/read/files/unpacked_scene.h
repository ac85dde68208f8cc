#pragma once

#include <cstdint>
#include <filesystem>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"

namespace standpoint {

/// What a packed scene may hold: a real one stays far below, and a hostile one must not fill the
/// disk.
struct UnpackLimits {
  std::size_t entries = 10000;
  std::uint64_t bytes = std::uint64_t{8} << 30U;  ///< of all entries, unpacked
  /// Unpacked bytes for each byte of the zip file, beyond the first `free_bytes`. Meshes as text
  /// were seen to shrink to a tenth.
  std::uint64_t ratio = 200;
  std::uint64_t free_bytes = std::uint64_t{64} << 20U;
};

/// The files of a packed scene in a temporary folder of their own, gone with the object.
class UnpackedScene {
 public:
  explicit UnpackedScene(std::filesystem::path folder) : folder_(std::move(folder)) {}
  ~UnpackedScene();
  UnpackedScene(UnpackedScene&& other) noexcept;
  UnpackedScene& operator=(UnpackedScene&&) = delete;
  UnpackedScene(const UnpackedScene&) = delete;
  UnpackedScene& operator=(const UnpackedScene&) = delete;

  [[nodiscard]] const std::filesystem::path& folder() const { return folder_; }
  [[nodiscard]] std::filesystem::path scene() const { return folder_ / "scene.json"; }

 private:
  std::filesystem::path folder_;
};

/// Whether a file is a packed scene: a regular file whose name ends in ".zip" or that begins as a
/// zip file does. Never throws.
[[nodiscard]] bool is_packed_scene(const std::filesystem::path& file);

/// Unpacks a scene that stands with all that it names in one zip file (contract section 12).
///
/// Faults, all at once, under the zip file's name or "job.zip/hall.stl" for one entry: no zip file,
/// damaged, no scene.json at its root, too many or too large entries, entries that are encrypted,
/// links, there twice, or whose name leads out of the zip file. Nothing is unpacked then.
/// Throws std::filesystem::filesystem_error where the temporary folder cannot be written. POSIX.
/// O(n) in bytes.
[[nodiscard]] tl::expected<UnpackedScene, Faults> unpack_scene(const std::filesystem::path& file,
                                                               const UnpackLimits& limits = {});

}  // namespace standpoint
