#include "io/read/bodies/file_kind.h"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <string_view>
#include <system_error>

#include <fmt/format.h>

#include "io/read/meshes/declared_counts.h"
#include "io/read/meshes/mesh_reader.h"

#if defined(__unix__) || defined(__APPLE__)
#include <unistd.h>
#endif

namespace standpoint {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kSupported =
    "STEP (.step .stp), IGES (.iges .igs), STL, OBJ, PLY, OFF, 3MF, glTF (.gltf .glb), COLLADA "
    "(.dae), "
    "FBX, AMF and IFC files are";

std::string extension_of(const fs::path& file) {
  std::string extension = file.extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return extension;
}

double memory_of_machine() {
#if defined(_SC_PHYS_PAGES)
  const long pages = ::sysconf(_SC_PHYS_PAGES);
  const long page = ::sysconf(_SC_PAGESIZE);
  if (pages > 0 && page > 0) {
    return static_cast<double>(pages) * static_cast<double>(page);
  }
#endif
  return 8e9;
}

}  // namespace

FileKind kind_of_file(const fs::path& file) {
  const std::string extension = extension_of(file);
  if (extension == ".step" || extension == ".stp" || extension == ".p21") {
    return FileKind::step;
  }
  if (extension == ".iges" || extension == ".igs") {
    return FileKind::iges;
  }
  return is_mesh_extension(extension) ? FileKind::mesh : FileKind::unknown;
}

std::optional<std::string> why_not_read(const fs::path& file, FileKind kind, std::uintmax_t& size) {
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (!fs::exists(status)) {
    return "there is no such file";
  }
  if (fs::is_directory(status)) {
    return "it is a folder, not a file";
  }
  if (!fs::is_regular_file(status)) {
    return "it is not a regular file";
  }
  if (kind == FileKind::unknown) {
    return fmt::format("files of this kind are not read; {}", kSupported);
  }
  size = fs::file_size(file, error);
  if (error || !std::ifstream(file, std::ios::binary)) {
    return "it cannot be opened for reading";
  }
  if (size == 0) {
    return "it is empty";
  }
  return declared_too_much(file, extension_of(file), size);
}

ApartLimits limits_for(std::uintmax_t size) {
  const double wanted = 4e9 + 400 * static_cast<double>(size);
  ApartLimits limits;
  limits.memory_bytes = static_cast<std::uint64_t>(std::min(wanted, 0.8 * memory_of_machine()));
  limits.cpu_seconds = 120 + 60 * (size >> 20);
  return limits;
}

}  // namespace standpoint
