#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include <tl/expected.hpp>

#include "geometry/mesh.h"
#include "geometry/mesh_defects.h"

namespace standpoint {

struct BodyRequest {
  std::filesystem::path file;
  std::optional<double> mm_per_unit;  ///< the scene's `mesh_units`; wins over what the file says
  double default_mm_per_unit = 1;     ///< where neither states a unit: the scene's
  double chord_tolerance = 0.1;       ///< mm, for STEP and IGES
  Pose world_from_body = Pose::Identity();
};

/// What a body's file is like.
struct BodyReport {
  std::string format;     ///< "STEP", "STL", ...
  double mm_per_unit = 1; ///< that was used
  std::string unit_source;  ///< "scene's mesh_units", "file", "scene's units"
  MeshDefects defects;
  Vec3 low = Vec3::Zero(), high = Vec3::Zero();  ///< bounding box in the scene's frame, mm
};

struct ReadBody {
  Mesh mesh;  ///< placed, mm
  BodyReport report;
};

/// Reads one mesh or CAD file: STEP and IGES through OpenCASCADE, all else through Assimp. The error
/// is one plain sentence. Refuses files that would need absurd memory.
[[nodiscard]] tl::expected<ReadBody, std::string> read_body(const BodyRequest& request);

}  // namespace standpoint
