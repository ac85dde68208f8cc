#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "standpoint/scene.h"

namespace standpoint {

/// What of a body's surface is meant: by exactly one of `polygon`, `faces` and `inside`.
struct SurfaceSelection {
  /// From the scene's frame to that of `polygon` and `inside`.
  Pose frame_from_world = Pose::Identity();
  std::vector<Vec2> polygon;         ///< what lies over it and faces the frame's +Z, mm; simple
  std::vector<std::uint32_t> faces;  ///< these faces: values of Mesh::face_of_triangle
  std::optional<std::array<Vec3, 2>> inside;  ///< what lies in the box from the first to the second
};

/// How touches are laid over a surface.
struct SurfaceRule {
  double spacing = 0;      ///< the least distance of two touches, mm, > 0
  double ball_radius = 0;  ///< of the ball that must rest at each on the body, mm, >= 0
};

/// Why a surface has no touches.
enum class NoTouches {
  nothing_selected,  ///< no part of the body's surface is selected
  no_rest,           ///< nowhere on it a ball can rest off its edges
  too_many,          ///< more than `kMostSurfaceTouches`
};

struct RaisedTouches {
  std::vector<PointFeature> touches;  ///< by x, then y, then z
  std::optional<NoTouches> why_none;  ///< where there are none
};

inline constexpr std::size_t kMostSurfaceTouches = 1000;

/// Lays touches over the selected part of a body's surface (docs/touches.md, "Surface").
///
/// Places to choose from are where lines parallel to the axes, an eighth of the spacing apart, meet
/// the triangles, each triangle along the axis that its normal is nearest to; where none of them is
/// left, lines half as far apart, and so on seven times. Left out are places
/// nearer than `tolerance::kOffEdge` (or a tenth of the spacing, if that is less) to an open or
/// sharp edge of the body, and those where the body stands deeper than `tolerance::kRestDepth` in
/// the ball. Of the rest the one nearest to their middle is taken, then again and again the one
/// farthest from all taken, until none is `spacing` away (farthest-point sampling: T. F. Gonzalez,
/// Clustering to minimize the maximum intercluster distance, Theoretical Computer Science 38, 1985,
/// 293-306; from memory). Distances are straight; places that face away from one another by more
/// than 120 degrees, as on the two sides of a sheet, do not keep each other away.
///
/// Lengths mm, world frame; the normal of each touch is its triangle's. The same whatever the order
/// of triangles and whichever of its corners a triangle begins with. Precondition: indices in
/// range, finite vertices. Throws std::bad_alloc. O(n log n + touches x places). Safe from many
/// threads.
[[nodiscard]] RaisedTouches raise_touches(const Mesh& mesh, const SurfaceSelection& selection,
                                          const SurfaceRule& rule);

}  // namespace standpoint
