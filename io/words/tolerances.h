#pragma once

namespace standpoint::tolerance {

// Every tolerance of this floor, with its unit, why it has its size, and what a change does. Those
// of planner/ stand in planner/model/tolerances.h.

/// Points count as one line when none is farther from their longest connection than this share of
/// its length: what is left of the plane's tilt then is rounding.
inline constexpr double kLineShare = 1e-6;

/// Lengths of a CAD file's annotation are rounded to this, mm: what a file gains by changing between
/// inch and mm (10.999999999998 for 11). Larger: fine tolerances change. Smaller: the noise shows.
inline constexpr double kAnnotationStep = 1e-6;

/// A step of 1e-3 units must ask for exactly 3 decimals, though the quotient may be rounded up.
inline constexpr double kDecimalsRounding = 1e-9;

}  // namespace standpoint::tolerance
