#pragma once

#include <optional>
#include <vector>

#include "geometry/directions.h"
#include "geometry/tree/tree.h"
#include "planner/reach/place.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// What blocks a stylus held in one direction.
struct ShankBlock {
  Rule rule = Rule::shank;  ///< shank or head
  Contact contact;
  RoundCone solid;  ///< the piece of the stylus that it stands in
};

/// In which directions a stylus can be held at one place: its shank and what it carries cut no
/// body. The same for all stations, so each direction is decided once and remembered.
///
/// Only the centres of the finest direction patches are remembered; any other direction may be
/// asked but is decided anew. Whole patches are decided at once where a swollen stylus is free in
/// all of one, or a shrunken one blocked: which makes it cheaper, and changes no answer. Not shared
/// between threads; answers do not depend on what was asked before.
class ShankRoom {
 public:
  /// A stylus as solids: a shank (tapering from the tip where it is thicker than the tip) from the
  /// tip's surface to `length` along the direction, and balls of `head_radius` at each of
  /// `head_distances`. Lengths in mm from the tip's centre. Precondition: where the shank tapers,
  /// it gains less in radius than `shank.taper` is long.
  ShankRoom(const Cell& cell, const Vec3& tip_centre, const Shank& shank, double length,
            const std::vector<double>& head_distances, double head_radius);

  /// Whether the centre of the finest patch with this index is free.
  [[nodiscard]] bool is_free(std::uint32_t finest_index);
  /// Whether no centre of a finest patch within `patch` is free. False may also mean: not found
  /// out without asking each of them.
  [[nodiscard]] bool is_all_blocked(const DirectionPatch& patch);
  /// Whether any unit direction is free.
  [[nodiscard]] bool is_free(const Vec3& direction);
  /// What blocks a direction; nothing where it is free, or where the margin of what blocks is not
  /// above `above`, mm.
  [[nodiscard]] std::optional<ShankBlock> block(const Vec3& direction,
                                                std::optional<double> above = {}) const;
  /// The least margin of the shank (or of the heads, as `rule` says) to any body, mm; infinite
  /// where there is no body. At least -fit_tolerance where the direction is free.
  [[nodiscard]] double clearance(Rule rule, const Vec3& direction) const;

 private:
  /// One solid of the stylus, between two distances from the tip's centre.
  struct Piece {
    Rule rule;
    double from, to;  ///< equal for a ball
    double from_radius, to_radius;
  };
  enum class Known : std::uint8_t { nothing, free, blocked, mixed };

  [[nodiscard]] RoundCone solid(const Piece& piece, const Vec3& direction) const;
  [[nodiscard]] Known decide(const DirectionPatch& patch);
  [[nodiscard]] bool is_free_all_over(const DirectionPatch& patch);
  [[nodiscard]] bool is_blocked_all_over(const DirectionPatch& patch);
  [[nodiscard]] Known known(const DirectionPatch& patch);

  const Cell* cell_;
  Vec3 tip_centre_;
  std::vector<Piece> pieces_;  ///< heads first: the largest, and so most often what blocks
  /// By level, then by index; made on first use.
  std::array<std::vector<Known>, DirectionPatch::kFinestLevel + 1> known_;
  BlockerHint hint_;
};

}  // namespace standpoint
