#include "io/read/bodies/body_reader.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <fstream>
#include <new>
#include <system_error>

#include <fmt/format.h>

#include "io/read/bodies/apart.h"
#include "io/read/bodies/file_kind.h"
#include "io/read/bodies/placed_body.h"
#include "io/read/cad/cad_reader.h"
#include "io/read/meshes/mesh_reader.h"

namespace standpoint {
namespace {

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

tl::expected<RawBody, std::string> read_raw(const BodyRequest& request, FileKind kind) {
  const CadRequest cad = {request.file, request.mm_per_unit, request.default_mm_per_unit,
                          request.chord_tolerance};
  switch (kind) {
    case FileKind::step:
      return read_step(cad);
    case FileKind::iges:
      return read_iges(cad);
    default:
      return read_mesh(request.file, request.within);
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
  const FileKind kind = kind_of_file(request.file);
  std::uintmax_t size = 0;
  auto refused = refusal(request);
  if (!refused) {
    refused = why_not_read(request.file, kind, size);
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
  place_vertices(body);
  body.report.defects = find_defects(body.mesh);
  if (const std::size_t bad = body.report.defects.non_finite_vertices; bad > 0) {
    return tl::unexpected(
        fmt::format("{} of its {} vertices are not finite", bad, body.mesh.vertices.size()));
  }
  return body;
}

}  // namespace standpoint
