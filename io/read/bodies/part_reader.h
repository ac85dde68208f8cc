#pragma once

#include <filesystem>
#include <string>

#include <tl/expected.hpp>

#include "io/read/cad/cad_faces.h"

namespace standpoint {

/// Reads one file as a part's faces, in the file's frame, mm: STEP and IGES through OpenCASCADE, in
/// a process of its own (apart.h); of any other file, the faces fitted to its mesh (fit_faces.h).
/// `chord`: mm, > 0, of CAD. `default_mm_per_unit`: > 0, where a mesh's file states no unit.
/// `solids` of a mesh are its pieces of surface that are closed.
///
/// The error is one plain sentence without the file's name: what read_body tells, no solid in it,
/// or a file that has no surfaces. The same file gives the same faces. Safe from several threads.
[[nodiscard]] tl::expected<ReadPart, std::string> read_part_faces(const std::filesystem::path& file,
                                                                  double chord = 0.1,
                                                                  double default_mm_per_unit = 1);

}  // namespace standpoint
