#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>

#include <tl/expected.hpp>

#include "planner/part/annotation.h"
#include "planner/part/face.h"

namespace standpoint {

/// A part as its faces, and what was met in its file on the way.
struct ReadPart {
  PartFaces part;
  std::string format;                        ///< "STEP", "IGES", "STL", ...
  std::optional<double> stated_mm_per_unit;  ///< what the file says one unit of its numbers is
  std::size_t solids = 0;                    ///< closed bodies of material, each as it is placed
  std::size_t loose_faces = 0;               ///< faces in no solid: left out
  Annotation annotation;                     ///< STEP: tolerances and datums of those faces
};

/// Reads STEP (AP203, AP214, AP242) or IGES through OpenCASCADE as faces: the surface of each, its
/// rims, and what lies beyond them. In the file's frame, mm. Free-form surfaces that are planes,
/// cylinders, cones or spheres in truth are told as such (known_surface.h).
///
/// Only faces of solids: of others it is not known where the material is. An IGES file whose faces
/// stand each on its own has them sewn where they meet, and is a solid where that closes. Curves
/// are cut within `chord` (mm, > 0). Numbers of faces are those that cad_reader.h gives. The error
/// is one plain sentence. Throws std::bad_alloc. Prints nothing. Not safe from several threads
/// (OpenCASCADE keeps global settings).
[[nodiscard]] tl::expected<ReadPart, std::string> read_step_faces(const std::filesystem::path& file,
                                                                  double chord);
[[nodiscard]] tl::expected<ReadPart, std::string> read_iges_faces(const std::filesystem::path& file,
                                                                  double chord);

}  // namespace standpoint
