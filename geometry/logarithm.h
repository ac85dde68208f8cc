#pragma once

namespace standpoint {

// Logarithm and exponential that give the same bits wherever this source is compiled, for the
// reason that trigonometry.h gives, and by the same means. All O(1) and pure.

/// The natural logarithm, within 1 ulp. Precondition: x is positive and finite.
[[nodiscard]] double logarithm(double x);

/// e^x, within 1 ulp; 0 below the smallest double, infinite above the largest. Precondition: x is a
/// number.
[[nodiscard]] double exponential(double x);

}  // namespace standpoint
