#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "geometry/directions.h"
#include "planner/reach/place.h"

namespace standpoint {

/// What blocks a stylus held in one direction.
struct ShankBlock {
  Rule rule = Rule::shank;  ///< shank or head
  Contact contact;
};

/// In which directions a stylus can be held at one place: its shank and what it carries cut no
/// body. The same for all stations, so each direction is decided once and remembered.
///
/// Only the centres of the finest direction patches are remembered; any other direction may be
/// asked but is decided anew. Not shared between threads; answers do not depend on what was asked
/// before.
class ShankRoom {
 public:
  /// A stylus as solids: a shank (tapering from the tip where it is thicker than the tip) from the
  /// tip's surface to `length` along the direction, and balls of `head_radius` at each of
  /// `head_distances`.
  ShankRoom(const Cell& cell, const Vec3& tip_centre, const Shank& shank, double length,
            std::vector<double> head_distances, double head_radius);

  /// Whether the finest patch centre with this index is free.
  [[nodiscard]] bool is_free(std::uint32_t finest_index);
  /// All finest patch centres that are free, ascending by index. Decided whole on first use.
  [[nodiscard]] const std::vector<std::uint32_t>& free_directions();
  /// Whether any unit direction is free.
  [[nodiscard]] bool is_free(const Vec3& direction);
  /// What blocks a direction; nothing where it is free.
  [[nodiscard]] std::optional<ShankBlock> block(const Vec3& direction) const;

 private:
  struct Piece {
    Rule rule;
    RoundCone solid;
  };
  [[nodiscard]] std::vector<Piece> pieces(const Vec3& direction) const;

  enum class Known : std::uint8_t { nothing, free, blocked };
  const Cell* cell_;
  Vec3 tip_centre_;
  Shank shank_;
  double length_;
  std::vector<double> head_distances_;
  double head_radius_;
  std::vector<Known> known_;  ///< by finest index; made on first use
  std::optional<std::vector<std::uint32_t>> free_;
  BlockerHint hint_;
};

/// Calls `visit` with the index of every finest direction patch whose centre is within `angle_rad`
/// of `axis`, until it returns true; whether it did. Patches are skipped in whole branches.
bool any_finest_within(const Vec3& axis, double angle_rad,
                       const std::function<bool(std::uint32_t finest_index)>& visit);

}  // namespace standpoint
