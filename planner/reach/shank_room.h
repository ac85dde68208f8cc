#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "geometry/direction_memory.h"
#include "geometry/directions.h"
#include "geometry/tree/tree.h"
#include "planner/model/stylus_solids.h"
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
/// body. The same for all stations, so each direction is decided once, and remembered for all who
/// ask among these bodies (`Cell::direction_memory`).
///
/// Only the centres of the finest direction patches are remembered; any other direction may be
/// asked but is decided anew. Whole patches are decided at once where a swollen stylus is free in
/// all of one, or a shrunken one blocked; a piece of the stylus that is free all over a patch is
/// not asked in the patches within. That makes it cheaper, and changes no answer. Not shared
/// between threads, which share only what is remembered; answers do not depend on what was asked
/// before.
class ShankRoom {
 public:
  /// The stylus's solids are those of stylus_pieces().
  ShankRoom(const Cell& cell, const Vec3& tip_centre, const OffsetStylus& stylus)
      : cell_(&cell),
        tip_centre_(tip_centre),
        pieces_(stylus_pieces(stylus)),
        hints_(pieces_.size()) {}

  /// Whether the centre of the finest patch with this index is free.
  [[nodiscard]] bool is_free(std::uint32_t finest_index);
  /// Whether no centre of a finest patch within `patch` is free, as far as it was found out before:
  /// costs next to nothing.
  [[nodiscard]] bool is_known_blocked(const DirectionPatch& patch);
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
  [[nodiscard]] RoundCone solid(const StylusPiece& piece, const Vec3& direction) const {
    return solid_of(piece, tip_centre_, direction);
  }
  [[nodiscard]] KnownDirections& known();
  [[nodiscard]] bool is_free_all_over(const DirectionPatch& patch, std::size_t number);
  [[nodiscard]] bool is_blocked_all_over(const DirectionPatch& patch, std::size_t number);
  [[nodiscard]] PatchAnswer decide(const DirectionPatch& patch, std::uint8_t open);
  [[nodiscard]] PatchAnswer answer(const DirectionPatch& patch);

  const Cell* cell_;
  Vec3 tip_centre_;
  std::vector<StylusPiece> pieces_;
  std::shared_ptr<KnownDirections> known_;  ///< from the first question on
  std::vector<BlockerHint> hints_;          ///< of each piece: what blocked it last
};

}  // namespace standpoint
