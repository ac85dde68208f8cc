#pragma once

#include <vector>

#include "geometry/vec.h"

namespace standpoint {

struct AlignmentTouch;

/// A small rigid motion of the part's frame, told as a shift or as a turn about a line. World
/// frame.
struct Motion {
  bool turns = false;  ///< else it shifts
  Vec3 direction;      ///< unit: of the shift, or along the line; its greatest part is positive
  Vec3 through;        ///< a point on the line, the nearest to the middle of the touches, mm
  double rise = 0;     ///< of a turn: shift along the line, mm per rad
};

/// The motions of everything together that no touch of an alignment resists: shifts first, then
/// turns, each set orthogonal. Weights play no part: a motion is free where the touches' mean
/// square shift along what they hold is under `tolerance::kHingeRatio` of the greatest. Where a
/// turn is free together with shifts, its line is told without them. Six (three shifts, three
/// turns) where there is no touch. Pure, O(touches). docs/uncertainty.md, "Aligned to the part".
[[nodiscard]] std::vector<Motion> free_motions(const std::vector<AlignmentTouch>& touches);

/// The small rigid motion (translation of `centre`, rotation in rad) as a screw; a shift where it
/// moves nothing at `reach` mm from `centre` by more than a part in 1e9 of the translation.
/// Precondition: `translation` or `rotation` is not zero.
[[nodiscard]] Motion as_screw(const Vec3& translation, const Vec3& rotation, const Vec3& centre,
                              double reach);

/// How a point at `place` moves in it: mm for a shift of 1 mm, mm per rad for a turn.
[[nodiscard]] Vec3 shift_at(const Motion& motion, const Vec3& place);

}  // namespace standpoint
