#pragma once

namespace standpoint {

/// P(X <= x) of the chi-square distribution: the regularised incomplete gamma function
/// P(degrees of freedom / 2, x / 2), by its series below degrees of freedom / 2 + 1 and its
/// continued fraction above (M. Abramowitz and I. A. Stegun, Handbook of Mathematical
/// Functions, 26.4.19, 6.5.29 and 6.5.31; the fraction by Lentz's recursion). Good to 1e-12 or so
/// up to a million degrees of freedom. Precondition: degrees of freedom > 0, x >= 0.
[[nodiscard]] double chi_square_probability(double degrees_of_freedom, double x);

/// The quantile: the x with P(X <= x) = p, by bisection. Precondition: degrees of freedom > 0, 0 <
/// p < 1.
[[nodiscard]] double chi_square_quantile(double degrees_of_freedom, double p);

}  // namespace standpoint
