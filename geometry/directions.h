#pragma once

#include <cstdint>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// A patch of the sphere of directions: a square of one face of a cube, seen from its middle.
///
/// Level 0 has the six faces; each level divides a patch into four. The squares are equal in the
/// angles at the cube's middle, so patches stay nearly alike, and their sides are great circles, so
/// the point of a patch farthest from its centre is a corner (derived here).
struct DirectionPatch {
  std::uint8_t face = 0;       ///< 0..5
  std::uint8_t level = 0;      ///< 0..kFinestLevel
  std::uint16_t i = 0, j = 0;  ///< 0..2^level - 1

  /// At this level no direction is farther than 0.995 degrees from the centre of its patch: any set
  /// of directions that holds a disc of 2 degrees diameter holds a centre.
  static constexpr int kFinestLevel = 6;
  static constexpr std::uint32_t kFinestCount = 6u << (2 * kFinestLevel);

  [[nodiscard]] Vec3 centre() const;  ///< unit
  /// No direction of the patch is farther from its centre, rad. The same for all of one level.
  [[nodiscard]] double radius_rad() const;
  [[nodiscard]] DirectionPatch child(int which) const {
    return {face, static_cast<std::uint8_t>(level + 1),
            static_cast<std::uint16_t>(2 * i + (which & 1)),
            static_cast<std::uint16_t>(2 * j + (which >> 1))};
  }
  /// Number of a patch among those of the finest level, 0..kFinestCount - 1.
  /// Precondition: level == kFinestLevel.
  [[nodiscard]] std::uint32_t finest_index() const {
    return (static_cast<std::uint32_t>(face) << (2 * kFinestLevel)) |
           (static_cast<std::uint32_t>(i) << kFinestLevel) | j;
  }
};

/// The centres of all patches of the finest level, unit, by finest_index. Built on first use.
[[nodiscard]] const std::vector<Vec3>& finest_directions();

/// The centres of all patches of one level, unit, face by face. Precondition: 0..kFinestLevel.
[[nodiscard]] std::vector<Vec3> directions_at_level(int level);

}  // namespace standpoint
