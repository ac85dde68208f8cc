#pragma once

#include <optional>
#include <vector>

#include "planner/why/cure.h"
#include "planner/why/obstruction.h"
#include "planner/why/steadiness.h"

namespace standpoint {

/// Why one target does not reach one touch, with everything that stands in its way.
struct ExplainedCause {
  Cause cause;
  std::vector<Obstruction> bodies;  ///< in the beam, shank, head or ball; empty for other rules
};

struct ExplainedTouch {
  TouchMark mark;
  std::vector<ExplainedCause> causes;  ///< as mark.causes; empty when reached
  /// Of a touch that is reached: what its beam passes nearer than `tight_margin`.
  std::vector<Obstruction> grazes;
};

/// The answer to "why does this beam keep breaking, and what cures it?".
struct Diagnosis {
  Subject subject;
  Vec3 station = Vec3::Zero();
  SubjectMark mark;
  std::vector<ExplainedTouch> touches;
  Cures cures;                              ///< searched where it is not reached by full target
  std::optional<Steadiness> station_shift;  ///< where it is reached
  std::optional<Steadiness> part_shift;     ///< where it is reached
};

/// Explains how `subject` stands from `station`, and what would cure it (find_cures). The cost is
/// that of the searches: hundreds to thousands of verdicts, some trees. Deterministic.
[[nodiscard]] Diagnosis diagnose(const Cell& cell, Subject subject, const Vec3& station,
                                 const std::vector<OtherPlace>& places, const CureSearch& search,
                                 const Watch& watch);

}  // namespace standpoint
