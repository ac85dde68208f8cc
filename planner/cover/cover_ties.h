#pragma once

#include <vector>

#include "planner/cover/cover_cuts.h"

namespace standpoint {

/// Cuts that a choice in several parts breaks, at least one. Each says that a choice must reach
/// across a set of columns that stands between two parts (derivation in docs/stations.md).
/// Preconditions: the core has a graph; `chosen` is not connected.
[[nodiscard]] std::vector<ColumnCut> broken_ties(const CoverCore& core, const Columns& chosen);

}  // namespace standpoint
