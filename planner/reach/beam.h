#pragma once

#include <optional>

#include "planner/cell.h"
#include "planner/reach/marks.h"

namespace standpoint {

/// The instrument's beam from its measuring centre to `end` (contract section 3).
[[nodiscard]] RoundCone beam_between(const Instrument& instrument, const Vec3& centre,
                                     const Vec3& end);

/// What first breaks a beam.
struct Blocker {
  BodyId body;
  TriangleId triangle;
  double distance = 0;  ///< along the axis, mm, where the body first comes nearer than allowed
  double margin = 0;    ///< of the whole beam, mm
  Vec3 at;              ///< the body's point there
};

/// The first place along `beam` where a body comes nearer than `margin`, with the margin of the
/// whole beam; nothing where the beam is clear. Precondition for an answer: !is_clear(beam,
/// margin).
[[nodiscard]] std::optional<Blocker> first_blocker(const Tree& tree, const RoundCone& beam,
                                                   double margin);

}  // namespace standpoint
