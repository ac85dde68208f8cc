#pragma once

#include <optional>

#include "planner/why/subject.h"
#include "standpoint/shapes.h"
#include "standpoint/why.h"

namespace standpoint {

/// How a stylus is held at one touch, and how much room it has.
struct Held {
  Vec3 direction = Vec3::UnitZ();  ///< unit, tip to mirror or balls
  /// Least margins of its shank and of its heads to any body, mm; infinite where there is none;
  /// down to -fit_tolerance.
  double shank_clearance = 0, head_clearance = 0;
};

/// Of all touches that the mark's stylus reaches, the one where shank or head has the least room,
/// of equal ones the first; nothing where a full target takes the subject, or nothing does. `mark`
/// must be the subject's in `cell`. O(touches x the tree's height).
[[nodiscard]] std::optional<Held> tightest_held(const Cell& cell, const SubjectMark& mark);

}  // namespace standpoint
