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
  double scatter = 0;  ///< standard deviation of the vertices, mm
  double within = 0;   ///< how far a vertex of a surface may be off it, mm
};

/// Patches that lie on one surface.
struct Region {
  Surface surface;
  bool hollow = false;                 ///< the outward normals point to the axis or centre
  std::vector<std::uint32_t> patches;  ///< ascending
  double area = 0;                     ///< mm²
  double chord = 0;       ///< greatest distance of a side's middle from the surface, mm
  double step_rad = 0;    ///< greatest angle by which the surface turns over one triangle
  std::size_t bends = 0;  ///< patches that differ in direction, as far as that can be told
};

/// The vertices of some patches, each once, ascending; of many, every so-manieth, `most` at most.
[[nodiscard]] std::vector<Vec3> vertices_of(const PatchedMesh& in,
                                            const std::vector<std::uint32_t>& patches,
                                            std::size_t most);

/// The greatest angle between a triangle's corners, rad, as seen from the axis (of a cone or
/// cylinder) or the centre. Corners at a cone's tip do not count.
[[nodiscard]] double turn_over(const Surface& surface, const JoinedMesh& mesh,
                               std::uint32_t triangle);

}  // namespace standpoint
