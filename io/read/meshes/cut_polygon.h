#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// A polygon cut into triangles.
struct CutPolygon {
  std::vector<std::array<std::uint32_t, 3>> triangles;  ///< of the polygon's corner numbers
  /// True where the polygon crosses or touches itself, so that it has no cut without overlaps; the
  /// triangles then are a fan, which covers every point that the polygon winds around, and more.
  bool is_fan = false;
};

/// Cuts a polygon of n >= 3 corners, convex or not, into n - 2 triangles with the same sense of
/// turn. Corners in any one unit and frame, finite; the polygon is judged in the coordinate plane
/// that it faces most, so it need not be quite flat. Corners along a straight side are kept, with
/// no flat triangle where that can be had. Ears are cut with exact predicates (the two-ears
/// theorem, Meisters, Amer. Math. Monthly 82, 1975). O(n^2) for most, O(n^3) at worst; above
/// `kMostCornersCut` corners it is a fan at once.
[[nodiscard]] CutPolygon cut_polygon(std::span<const Vec3> corners);

inline constexpr std::size_t kMostCornersCut = 4096;

}  // namespace standpoint
