#pragma once

#include <array>
#include <cstdint>
#include <functional>
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

  /// At this level no direction is farther than 0.995 degrees from the nearest centre (its own
  /// patch's may be 1.14 away, near a corner of the cube): any set of directions that holds a disc
  /// of 2 degrees diameter holds a centre.
  static constexpr int kFinestLevel = 6;
  static constexpr std::uint32_t kFinestCount = 6u << (2 * kFinestLevel);

  [[nodiscard]] const Vec3& centre() const;  ///< unit
  /// Unit; neighbours in the list are neighbours on the patch.
  [[nodiscard]] const std::array<Vec3, 4>& corners() const;
  /// No direction of the patch is farther from its own centre, rad. The same for all of one level.
  [[nodiscard]] double radius_rad() const;
  /// The same as the length between the two unit vectors.
  [[nodiscard]] double radius_chord() const;
  /// One of the four patches of the next level. Preconditions: which 0..3, level < kFinestLevel.
  [[nodiscard]] DirectionPatch child(int which) const {
    return {face, static_cast<std::uint8_t>(level + 1),
            static_cast<std::uint16_t>(2 * i + (which & 1)),
            static_cast<std::uint16_t>(2 * j + (which >> 1))};
  }
  /// The patch of a coarser level (or the same) that holds this one.
  [[nodiscard]] DirectionPatch ancestor(int coarser) const {
    const int up = level - coarser;
    return {face, static_cast<std::uint8_t>(coarser), static_cast<std::uint16_t>(i >> up),
            static_cast<std::uint16_t>(j >> up)};
  }
  /// Number of the patch among those of its level, 0..count_at(level) - 1, face by face.
  [[nodiscard]] std::uint32_t index() const {
    return (static_cast<std::uint32_t>(face) << (2 * level)) |
           (static_cast<std::uint32_t>(i) << level) | j;
  }
  [[nodiscard]] static DirectionPatch of_index(int level, std::uint32_t index) {
    const std::uint32_t in_row = (1u << level) - 1;
    return {static_cast<std::uint8_t>(index >> (2 * level)), static_cast<std::uint8_t>(level),
            static_cast<std::uint16_t>((index >> level) & in_row),
            static_cast<std::uint16_t>(index & in_row)};
  }
  [[nodiscard]] static constexpr std::uint32_t count_at(int level) { return 6u << (2 * level); }
};

/// The centres of all patches of the finest level, unit, by index(). Patches are worked out on
/// first use, 3 MB; any thread may ask.
[[nodiscard]] const std::vector<Vec3>& finest_directions();

/// The centres of all patches of one level, unit, by index(). Precondition: 0..kFinestLevel.
[[nodiscard]] const std::vector<Vec3>& directions_at_level(int level);

/// Calls `visit` with the index of every finest patch whose centre is within `angle_rad` of the
/// unit vector `axis`, until it returns true; whether it did. Ascending by face, then quarter by
/// quarter. Patches are left out in whole branches: O(patches met), some 700 for 12 degrees.
bool any_finest_within(const Vec3& axis, double angle_rad,
                       const std::function<bool(std::uint32_t finest_index)>& visit);

}  // namespace standpoint
