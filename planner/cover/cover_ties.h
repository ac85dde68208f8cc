#pragma once

#include <vector>

#include "planner/cover/cover_core.h"

namespace standpoint {

/// sum of x over `plus` - sum of x over `minus` >= at_least: met by every connected choice that is
/// enough.
struct TieCut {
  Columns plus, minus;
  int at_least = 0;

  friend bool operator==(const TieCut&, const TieCut&) = default;
};

/// Cuts that a choice in several parts breaks, at least one. Each says that a choice must reach
/// across a set of columns that stands between two parts (derivation in docs/stations.md).
/// Preconditions: the core has a graph; `chosen` is not connected.
[[nodiscard]] std::vector<TieCut> broken_ties(const CoverCore& core, const Columns& chosen);

}  // namespace standpoint
