#pragma once

#include <optional>

#include "planner/why/subject.h"

namespace standpoint {

/// How far something may shift before a subject is no longer reached.
struct Steadiness {
  /// Any shift up to this keeps it reached: proved for a full target on all touches it takes, from
  /// the beam's margin, range, elevation and acceptance; nothing where a stylus takes it (how it is
  /// held changes with every shift, and is only searched). mm.
  std::optional<double> proved;
  /// The shortest shift found that breaks it, of those tried; nothing where none within `longest`
  /// does. mm.
  std::optional<Vec3> breaks;
  double longest = 0;  ///< how far shifts were tried, mm
  int directions = 0;  ///< in how many directions
  double width = 0;    ///< how closely each was narrowed down, mm
};

/// Shifts of the measuring centre, in every direction. Precondition: the subject is reached.
[[nodiscard]] Steadiness station_steadiness(const Cell& cell, Subject subject, const Vec3& station);

/// Shifts of the part with its features against everything else. Precondition: the subject is
/// reached. Builds a tree for every shift that is tried.
[[nodiscard]] Steadiness part_steadiness(const Cell& cell, Subject subject, const Vec3& station);

}  // namespace standpoint
