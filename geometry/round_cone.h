#pragma once

#include <array>

#include "standpoint/shapes.h"

namespace standpoint {

/// Where a body comes nearest to a round cone, in the sense of the margin.
struct Nearest {
  /// min over t of (distance from axis point t to the triangle) - (radius at t), mm. Negative when
  /// the triangle stands inside.
  double margin = 0;
  /// The t at which it is attained, mm from `start` along the axis.
  double along = 0;
  /// The triangle's point there, world frame, mm.
  Vec3 at = Vec3::Zero();
};

/// The exact margin between a round cone and one triangle.
///
/// Closed form, no iteration: see docs/beam.md for the derivation (derived here). Degenerate
/// triangles (a needle, a point) are handled as the segment or point they are. The answer is wrong
/// by at most `margin_error(...)` of tolerances.h. O(1), no allocation, safe from any thread.
[[nodiscard]] Nearest nearest_on_triangle(const RoundCone& cone,
                                          const std::array<Vec3, 3>& triangle);

/// The same, to the bit, where the margin is at most `limit`; elsewhere some margin above it, with
/// a place that need not be the nearest. Cheaper where most of the triangle is farther off. O(1).
[[nodiscard]] Nearest nearest_if_at_most(const RoundCone& cone, const std::array<Vec3, 3>& triangle,
                                         double limit);

/// Whether the plane of a triangle alone shows that its true margin is at least `margin`: the cone
/// lies on one side, each end far enough off. False where that is not sure. Costs a tenth of the
/// margin. O(1), safe from any thread.
[[nodiscard]] bool is_surely_beyond_plane(const RoundCone& cone,
                                          const std::array<Vec3, 3>& triangle, double margin);

/// The smallest t, mm from `start`, at which the triangle is nearer to the axis than the radius
/// there plus `margin`; `nearest` must be the answer of `nearest_on_triangle` for the same pair and
/// nearest.margin < margin. Bisection on a convex function; within 1e-6 mm.
[[nodiscard]] double first_entry(const RoundCone& cone, const std::array<Vec3, 3>& triangle,
                                 const Nearest& nearest, double margin);

}  // namespace standpoint
