#pragma once

#include <optional>

#include "planner/why/subject.h"
#include "standpoint/shapes.h"
#include "standpoint/why.h"

namespace standpoint {

/// Shifts of the measuring centre, in every direction. Precondition: the subject is reached.
[[nodiscard]] Steadiness station_steadiness(const Cell& cell, Subject subject,
                                            const Stance& station);

/// Shifts of the part with its features against everything else. Precondition: the subject is
/// reached. Builds a tree for every shift that is tried.
[[nodiscard]] Steadiness part_steadiness(const Cell& cell, Subject subject, const Stance& station);

}  // namespace standpoint
