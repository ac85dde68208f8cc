#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include <tl/expected.hpp>

#include "io/read/meshes/raw_body.h"

namespace standpoint {

/// Whether Assimp has an importer for this extension (lower case, with its dot) that we trust with
/// it. Not for STEP, which Assimp lists but cannot read.
[[nodiscard]] bool is_mesh_extension(std::string_view extension);

/// Reads a mesh file through Assimp, in the file's own frame and numbers: nodes are placed, an axis
/// or unit conversion that the importer puts on top is taken off again and told in `up_axis` and
/// `stated_mm_per_unit`. Faces are the file's meshes, named by mesh, node or material. Polygons are
/// cut into triangles; points, lines, bones and morphs are left out.
///
/// Vertices may be not finite. The error is one plain sentence. Importers hold coordinates as
/// floats: 24 bits, 0.5 um at 10 m. Throws std::bad_alloc. Prints nothing. About 250 bytes a
/// triangle while reading.
///
/// Some formats name other files (buffers of glTF, materials of OBJ). With `within`, a folder that
/// holds `file`, one that lies outside of it is not opened, and that is the error. By names alone:
/// the folder must hold no links.
[[nodiscard]] tl::expected<RawBody, std::string> read_mesh(
    const std::filesystem::path& file, const std::filesystem::path& within = {});

}  // namespace standpoint
