#pragma once

#include <optional>
#include <string>
#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// A usual mistake in a scene that is no fault of its form: what it says can be, but hardly so.
struct Trap {
  enum class Kind {
    /// A part fits its features when it is scaled by `scale` about its pose's origin, and turned by
    /// `turn_deg` first where that is not zero; as it stands it does not.
    misplaced_part,
    part_too_large,  ///< `amount` mm across, for what the instrument can reach
    part_too_small,  ///< likewise
    inward_mesh,     ///< a closed body of which all triangles face inward
    normal_inward,   ///< a feature's normals, or its axis, point into the material of `body`
    feature_inside,  ///< a feature is touched inside of `body`, `amount` mm deep
    feature_off,     ///< a feature is touched `amount` mm off every surface; `body` is the nearest
    part_floats,     ///< a part, with all that it touches, ends `amount` mm above the floor
    part_sinks,      ///< a part reaches `amount` mm below the floor
  };
  Kind kind = Kind::feature_off;
  std::optional<BodyId> body;
  std::optional<FeatureId> feature;
  double amount = 0;  ///< mm
  double scale = 1;
  Vec3 turn_deg = Vec3::Zero();  ///< about fixed x, then y, then z; in the body's own coordinates
  double share = 0;              ///< of the stray touches that then lie on the part
  std::string zone;              ///< whose floor it is
  double floor = 0;              ///< z of that floor, mm
};

/// Looks for the usual mistakes, in the order of the kinds, then of bodies and features.
///
/// A touch (docs/touches.md, of a tip without size) is stray where no body comes nearer than
/// `tolerance::kStray` (1 mm). `misplaced_part` is told where at least half of all touches, and
/// three, are stray, and nine in ten of those lie on the part after one of the usual changes: a
/// factor between two units of length, a quarter or half turn about an axis, or both. What it
/// explains is told no other way. The range tells a part's size only where features do not: too
/// large is more than three times the farthest distance, too small less than a two-thousandth of
/// it.
///
/// What is inside a body is told of closed bodies alone (Material). A part floats where neither
/// it nor anything that it touches, directly or by way of others, reaches down to the lowest floor
/// of the zones; a scene without zones has no floor to be judged by.
///
/// O((touches + edges near other bodies) log triangles), and the building of a tree for each part
/// that has stray touches. One thread.
[[nodiscard]] std::vector<Trap> find_traps(const Cell& cell);

}  // namespace standpoint
