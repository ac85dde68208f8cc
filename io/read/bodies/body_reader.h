#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "geometry/mesh_defects.h"
#include "geometry/placement.h"
#include "standpoint/shapes.h"

namespace standpoint {

struct BodyRequest {
  std::filesystem::path file;
  std::optional<double> mm_per_unit;  ///< the scene's `mesh_units`; wins over what the file says
  double default_mm_per_unit = 1;     ///< where neither states a unit: the scene's
  double chord_tolerance = 0.1;       ///< mm, for STEP and IGES
  Pose world_from_body = Pose::Identity();
  std::filesystem::path within{};  ///< a folder; a mesh that names a file outside is an error
};

/// What a body's file is like.
struct BodyReport {
  std::string format;       ///< "STEP", "STL", ...
  double mm_per_unit = 1;   ///< that was used
  std::string unit_source;  ///< "scene's mesh_units", "file", "scene's units"
  /// What the file (or its format's standard) says one unit is, mm, even where `mesh_units` won.
  std::optional<double> stated_mm_per_unit;
  char up_axis = ' ';  ///< 'X', 'Y', 'Z' as the file says, else ' '. Told only: nothing is turned
  MeshDefects defects;
  std::vector<std::string> lost_faces;  ///< faces of a CAD file of which no triangle could be made
  std::size_t fanned_polygons = 0;  ///< polygons that cross themselves: covered, and more than that
  Vec3 low = Vec3::Zero(), high = Vec3::Zero();  ///< bounding box in the scene's frame, mm
};

struct ReadBody {
  Mesh mesh;  ///< placed, mm
  Placement placement{};
  BodyReport report;
};

/// Reads one mesh or CAD file: STEP and IGES through OpenCASCADE, all else through Assimp, each in
/// a process of its own (apart.h). A file's axes are taken as its numbers stand; `world_from_body`
/// is what turns them. Equal vertices are one; nothing else of the surface is changed or repaired.
/// `chord_tolerance` is mm in the scene, whatever unit the file ends up with.
///
/// The error is one plain sentence without the file's name: missing, not a file, empty, of unknown
/// kind, cut short, damaged, without any surface, with coordinates that are not finite (their
/// number is given), or in need of absurd memory or time. The same file and request give the same
/// bytes. O(n) in triangles. Safe from several threads at once, each holding its own body.
[[nodiscard]] tl::expected<ReadBody, std::string> read_body(const BodyRequest& request);

}  // namespace standpoint
