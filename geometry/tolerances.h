#pragma once

#include <cmath>

namespace standpoint::tolerance {

// Every tolerance of the program, with its unit, why it has its size, and what a change does.

/// Error of a computed margin, mm, for coordinates up to `reach` mm from the origin: 64 units in
/// the last place of the largest coordinate covers the some forty roundings of
/// `nearest_on_triangle` (docs/beam.md counts them). Larger: beams that graze by nanometres are
/// called blocked. Smaller: they might be called clear wrongly.
[[nodiscard]] inline double margin_error(double reach) {
  return 64 * 0x1p-53 * reach;
}

/// Bisection width of `first_entry`, mm. Only shown to people.
inline constexpr double kEntryWidth = 1e-6;

/// How much nearer than allowed a body must not come for a blocked beam to be explained by it, mm:
/// above `margin_error` for any scene within a kilometre. Only shown to people.
inline constexpr double kBlockerLook = 1e-6;

/// Least eigenvalue of an element's normal matrix as a share of the greatest, without unit: below
/// it the touches do not fix the element. Larger: spread-out but flat patterns are refused; smaller:
/// touches on a line pass as a plane by their rounding.
inline constexpr double kElementRank = 1e-9;

}  // namespace standpoint::tolerance
