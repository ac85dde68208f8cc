#include "io/read/bodies/part_reader.h"

#include <set>
#include <utility>

#include <fmt/format.h>

#include "io/read/bodies/apart.h"
#include "io/read/bodies/body_reader.h"
#include "io/read/bodies/file_kind.h"
#include "planner/segmentation/fit_faces.h"

namespace standpoint {
namespace {

/// How many connected pieces of surface have no open edge.
std::size_t closed_pieces(const PartFaces& part) {
  std::set<std::size_t> all, open;
  for (const Face& face : part.faces) {
    all.insert(face.solid);
    for (const Loop& loop : face.loops) {
      for (const Edge& edge : loop) {
        if (edge.bend == EdgeBend::open) open.insert(face.solid);
      }
    }
  }
  return all.size() - open.size();
}

tl::expected<ReadPart, std::string> fitted_part(const std::filesystem::path& file,
                                                double default_mm_per_unit) {
  BodyRequest request;
  request.file = file;
  request.default_mm_per_unit = default_mm_per_unit;
  auto body = read_body(request);
  if (!body) return tl::unexpected(std::move(body.error()));
  ReadPart read;
  read.part = fit_faces(body->mesh);
  read.format = std::move(body->report.format);
  read.stated_mm_per_unit = body->report.stated_mm_per_unit;
  read.solids = closed_pieces(read.part);
  return read;
}

}  // namespace

tl::expected<ReadPart, std::string> read_part_faces(const std::filesystem::path& file, double chord,
                                                    double default_mm_per_unit) {
  const FileKind kind = kind_of_file(file);
  std::uintmax_t size = 0;
  if (auto why = why_not_read(file, kind, size)) {
    return tl::unexpected(std::move(*why));
  }
  if (kind == FileKind::mesh) {
    return fitted_part(file, default_mm_per_unit);
  }
  auto read = read_part_apart(
      [&] {
        return kind == FileKind::iges ? read_iges_faces(file, chord) : read_step_faces(file, chord);
      },
      limits_for(size));
  if (!read || !read->part.faces.empty()) {
    return read;
  }
  if (read->loose_faces == 0) {
    return tl::unexpected(std::string(
        "it holds no faces (perhaps only curves, notes, or references to other files)"));
  }
  return tl::unexpected(
      fmt::format("it holds {} faces but no solid, so it is not known on which side of them the "
                  "material is: export the part as a closed solid",
                  read->loose_faces));
}

}  // namespace standpoint
