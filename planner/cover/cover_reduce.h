#pragma once

#include "planner/cover/cover_core.h"

namespace standpoint {

/// What a reduction must leave exact.
enum class Aim {
  count,     ///< the least cost; full rows are left out of the result
  full_rows  ///< also the greatest weight of full rows at that cost
};

/// A smaller core with the same optimum, whose columns keep their names: columns that must be
/// chosen are forced and what they cover is taken off the rows' needs; rows that others imply and
/// columns that others dominate are left out (rules and proofs in docs/stations.md). With
/// Aim::full_rows the classes that forced columns cover fully are left out too, and so is their
/// weight; shared rows that may be full all stay. O(columns^2 (rows + touches) / 64) at worst for
/// each pass; few passes.
[[nodiscard]] CoverCore reduced(const CoverCore& core, Aim aim);

}  // namespace standpoint
