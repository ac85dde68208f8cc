#pragma once

#include <cmath>

namespace standpoint {

// Trigonometry that gives the same bits wherever this source is compiled: the standard library's
// differs in the last bit from one machine to the next, and the page's engine must place each touch
// and judge each angle as the program does. Additions, multiplications, divisions and square roots
// alone, which IEEE 754 rounds the same everywhere (floating-point contraction is off).
// All O(1) and pure.

/// Within 1 ulp for |x| <= 1e5 rad.
[[nodiscard]] double sine(double x);
[[nodiscard]] double cosine(double x);
/// Within 3 ulp for |x| <= 1e5 rad.
[[nodiscard]] double tangent(double x);

/// The angle of the point (x, y) from the x axis, rad, -pi..pi, as std::atan2 defines it for finite
/// arguments, with (0, 0) giving 0 or pi by the sign of x. Rounded to nearest but for one result in
/// some hundred, then 1 ulp off.
[[nodiscard]] double arc_tangent(double y, double x);
/// Likewise. Precondition: -1 <= x <= 1.
[[nodiscard]] double arc_sine(double x);

/// Length of the hypotenuse. No care for overflow: lengths in a scene are far from it.
[[nodiscard]] inline double hypotenuse(double x, double y) {
  return std::sqrt(x * x + y * y);
}

}  // namespace standpoint
