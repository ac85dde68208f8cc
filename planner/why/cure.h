#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planner/why/subject.h"
#include "standpoint/plan.h"
#include "standpoint/why.h"

namespace standpoint {

/// Searches what makes `subject` reachable from `station`, where it is blocked (or, with
/// `by_full_target`, not reached by full target). Heights and shifts stay within the zone that
/// holds the station (in plan; where none does, heights within `free_height`, and no shift), and
/// where the instrument's body cuts no mesh. A search looks at steps and narrows the first success
/// down by halving: a set of cures thinner than the step may be missed, and the change is smallest
/// to within `width` along its own direction. Every cure returned was decided by the rules of reach
/// in the whole changed scene. Only fixtures are moved or taken away. Returns early when
/// interrupted.
[[nodiscard]] Cures find_cures(const Cell& cell, Subject subject, const Stance& station,
                               const std::vector<OtherPlace>& places, const CureSearch& search,
                               const Watch& watch);

}  // namespace standpoint
