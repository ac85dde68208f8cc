#include "io/read/bodies/part_reader.h"

#include <fmt/format.h>

#include "io/read/bodies/apart.h"
#include "io/read/bodies/file_kind.h"

namespace standpoint {

tl::expected<ReadPart, std::string> read_part_faces(const std::filesystem::path& file,
                                                    double chord) {
  const FileKind kind = kind_of_file(file);
  std::uintmax_t size = 0;
  if (auto why = why_not_read(file, kind, size)) {
    return tl::unexpected(std::move(*why));
  }
  if (kind == FileKind::mesh) {
    return tl::unexpected(std::string(
        "it is a mesh, which has triangles and no surfaces: give the part as STEP or IGES"));
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
