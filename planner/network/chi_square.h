#pragma once

namespace standpoint {

/// P(X <= x) of the chi-square distribution: the regularised incomplete gamma function
/// P(degrees of freedom / 2, x / 2), by its series below degrees of freedom / 2 + 1 and its
/// continued fraction above (M. Abramowitz and I. A. Stegun, Handbook of Mathematical
/// Functions, 26.4.19, 6.5.29 and 6.5.31; the fraction by Lentz's recursion). Good to 1e-12
/// up to 5000 degrees of freedom, and to 2e-10 up to a million: there the exponent is the small
/// difference of numbers of some 10^7, whose rounding is left.
///
/// Not by Boost.Math: its gamma functions call the C library's exp, log, pow and lgamma, whose last
/// digits differ from one C library to the next, and the page must give the program's bytes
/// (`geometry/logarithm.h`). Boost.Math is the oracle of the tests, which hold the two to these
/// figures.
///
/// Pure; safe from many threads. O(square root of the degrees of freedom). Precondition: degrees of
/// freedom > 0, x >= 0.
[[nodiscard]] double chi_square_probability(double degrees_of_freedom, double x);

/// The quantile: the x with P(X <= x) = p, by bisection. Precondition: degrees of freedom > 0, 0 <
/// p < 1.
[[nodiscard]] double chi_square_quantile(double degrees_of_freedom, double p);

}  // namespace standpoint
