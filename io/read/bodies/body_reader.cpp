#include "io/read/bodies/body_reader.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <fstream>
#include <new>
#include <system_error>

#include <fmt/format.h>

#include "io/read/bodies/apart.h"
#include "io/read/cad/cad_reader.h"
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

enum class FileKind { step, iges, mesh, unknown };

std::string extension_of(const fs::path& file) {
  std::string extension = file.extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return extension;
}

FileKind kind_of(const std::string& extension) {
  if (extension == ".step" || extension == ".stp" || extension == ".p21") {
    return FileKind::step;
  }
  if (extension == ".iges" || extension == ".igs") {
    return FileKind::iges;
  }
  return is_mesh_extension(extension) ? FileKind::mesh : FileKind::unknown;
}

/// What speaks against the file before anything is read of it.
std::optional<std::string> refusal(const fs::path& file, FileKind kind, std::uintmax_t& size) {
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

std::optional<std::string> refusal(const BodyRequest& request) {
  const auto is_length = [](double x) { return std::isfinite(x) && x > 0; };
  if (!is_length(request.mm_per_unit.value_or(1)) || !is_length(request.default_mm_per_unit)) {
    return "its unit must be a positive length";
  }
  if (!is_length(request.chord_tolerance)) {
    return "the chord tolerance must be a positive length";
  }
  return std::nullopt;
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

/// Honest files were seen to need up to some 60 (STL) to 150 (STEP) times their size, so 4 GB and
/// 400 times the size leaves them room, while a small file cannot take the machine down. Never more
/// than 0.8 of the machine. Time likewise: STEP was seen to take up to 3 s a megabyte.
ApartLimits limits_for(std::uintmax_t size) {
  const double wanted = 4e9 + 400 * static_cast<double>(size);
  ApartLimits limits;
  limits.memory_bytes = static_cast<std::uint64_t>(std::min(wanted, 0.8 * memory_of_machine()));
  limits.cpu_seconds = 120 + 60 * (size >> 20);
  return limits;
}

tl::expected<RawBody, std::string> read_raw(const BodyRequest& request, FileKind kind) {
  const CadRequest cad = {request.file, request.mm_per_unit, request.default_mm_per_unit,
                          request.chord_tolerance};
  switch (kind) {
    case FileKind::step:
      return read_step(cad);
    case FileKind::iges:
      return read_iges(cad);
    default:
      return read_mesh(request.file);
  }
}

void use_unit(const BodyRequest& request, const RawBody& raw, BodyReport& report) {
  report.stated_mm_per_unit = raw.stated_mm_per_unit;
  if (request.mm_per_unit) {
    report.mm_per_unit = *request.mm_per_unit;
    report.unit_source = "scene's mesh_units";
  } else if (raw.stated_mm_per_unit) {
    report.mm_per_unit = *raw.stated_mm_per_unit;
    report.unit_source = "file";
  } else {
    report.mm_per_unit = request.default_mm_per_unit;
    report.unit_source = "scene's units";
  }
}

/// Scales and places all vertices, and takes their box.
void place(ReadBody& body) {
  Vec3 low = Vec3::Constant(std::numeric_limits<double>::infinity());
  Vec3 high = -low;
  for (Vec3& v : body.mesh.vertices) {
    v = placed(body.placement, v);
    low = low.cwiseMin(v);
    high = high.cwiseMax(v);
  }
  body.report.low = low;
  body.report.high = high;
}

std::string nothing_there(const RawBody& raw) {
  if (!raw.lost_faces.empty()) {
    return fmt::format("no triangle could be made of any of its {} faces", raw.lost_faces.size());
  }
  if (raw.format == "STEP" || raw.format == "IGES") {
    return "it holds no faces (perhaps only curves, notes, or references to other files)";
  }
  return "it holds no triangles";
}

}  // namespace

tl::expected<ReadBody, std::string> read_body(const BodyRequest& request) {
  const FileKind kind = kind_of(extension_of(request.file));
  std::uintmax_t size = 0;
  auto refused = refusal(request);
  if (!refused) {
    refused = refusal(request.file, kind, size);
  }
  if (refused) {
    return tl::unexpected(*refused);
  }
  auto raw = read_apart([&] { return read_raw(request, kind); }, limits_for(size));
  if (!raw) {
    return tl::unexpected(raw.error());
  }
  if (raw->mesh.triangles.empty()) {
    return tl::unexpected(nothing_there(*raw));
  }
  ReadBody body;
  use_unit(request, *raw, body.report);
  body.report.format = raw->format;
  body.report.up_axis = raw->up_axis;
  body.report.lost_faces = std::move(raw->lost_faces);
  body.report.fanned_polygons = raw->fanned_polygons;
  body.mesh = std::move(raw->mesh);
  body.placement = {request.world_from_body.linear(), request.world_from_body.translation(),
                    body.report.mm_per_unit / raw->coordinates_per_unit};
  place(body);
  body.report.defects = find_defects(body.mesh);
  if (const std::size_t bad = body.report.defects.non_finite_vertices; bad > 0) {
    return tl::unexpected(
        fmt::format("{} of its {} vertices are not finite", bad, body.mesh.vertices.size()));
  }
  return body;
}

}  // namespace standpoint
