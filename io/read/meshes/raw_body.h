#pragma once

#include <optional>
#include <string>
#include <vector>

#include "standpoint/shapes.h"

namespace standpoint {

/// What a file's importer hands over: the surface in the file's own frame, before units and pose.
struct RawBody {
  Mesh mesh;           ///< coordinates as `coordinates_per_unit` says; equal vertices are one
  std::string format;  ///< "STEP", "STL", ...
  /// What one unit of the file's numbers is, mm, where the file (or its format's standard) states
  /// it.
  std::optional<double> stated_mm_per_unit;
  /// How many of the mesh's coordinate steps make one unit of the file's numbers: 1, or for an
  /// importer that converts (OpenCASCADE, to mm) its factor.
  double coordinates_per_unit = 1;
  /// The axis that the file calls up: 'X', 'Y', 'Z', or ' ' where it does not say.
  char up_axis = ' ';
  /// Names of faces that got no triangle.
  std::vector<std::string> lost_faces;
  /// Polygons that cross or touch themselves and were cut as a fan, which covers at least them.
  std::size_t fanned_polygons = 0;
};

}  // namespace standpoint
