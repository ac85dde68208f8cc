#pragma once

#include <vector>

#include "planner/part/face.h"
#include "planner/segmentation/flat_patches.h"
#include "planner/segmentation/surface_fit.h"

namespace standpoint {

/// What a search for regions stands on.
struct PatchedMesh {
  const JoinedMesh& mesh;
  const Patches& patches;
  double scatter = 0;         ///< standard deviation of the vertices, mm
  double within = 0;          ///< how far a vertex of a surface may be off it, mm
  bool is_scattered = false;  ///< the scatter is more than what rounding leaves
};

/// Patches that lie on one surface.
struct Region {
  Surface surface;
  bool hollow = false;                   ///< the outward normals point to the axis or centre
  std::vector<std::uint32_t> patches;    ///< ascending
  std::vector<std::uint32_t> triangles;  ///< of these patches, those that the surface holds
  double area = 0;                       ///< mm²
  double chord = 0;       ///< greatest distance of a side's middle from the surface, mm
  double step_rad = 0;    ///< greatest angle by which the surface turns over one triangle
  std::size_t bends = 0;  ///< patches that differ in direction, as far as that can be told
};

/// The vertices of some patches, each once, ascending; of many, every so-manieth, `most` at most.
[[nodiscard]] std::vector<Vec3> vertices_of(const PatchedMesh& in,
                                            const std::vector<std::uint32_t>& patches,
                                            std::size_t most);

/// The vertices of some triangles, each once, ascending; of many, every so-manieth.
[[nodiscard]] std::vector<Vec3> corners_of(const JoinedMesh& mesh,
                                           const std::vector<std::uint32_t>& triangles,
                                           std::size_t most);

/// How many numbers hold a surface of this kind.
[[nodiscard]] double numbers_of(SurfaceKind kind);

/// The greatest root mean square distance, mm, that scatter alone leaves so many points of a
/// surface fitted to them: `tolerance::kSpreadOfRms` of its own deviations above the mean (that of
/// a chi square). Where nothing is scattered, `within`.
[[nodiscard]] double rms_allowed(const PatchedMesh& in, SurfaceKind kind, std::size_t points);

/// The greatest angle between a triangle's corners, rad, as seen from the axis (of a cone or
/// cylinder) or the centre. Corners at a cone's tip do not count.
[[nodiscard]] double turn_over(const Surface& surface, const JoinedMesh& mesh,
                               std::uint32_t triangle);

/// Whether that angle is above `limit`, rad, below a quarter of a round. Faster.
[[nodiscard]] bool turns_wider(const Surface& surface, const JoinedMesh& mesh,
                               std::uint32_t triangle, double limit);

}  // namespace standpoint
