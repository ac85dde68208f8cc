#pragma once

namespace standpoint {

/// P(X <= x) of the chi-square distribution: the regularised incomplete gamma function
/// P(freedoms / 2, x / 2), by its series below freedoms / 2 + 1 and its continued fraction above
/// (M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 26.4.19, 6.5.29 and 6.5.31;
/// the fraction by Lentz's recursion). Good to 1e-12 or so up to a million freedoms.
/// Precondition: freedoms > 0, x >= 0.
[[nodiscard]] double chi_square_probability(double freedoms, double x);

/// The quantile: the x with P(X <= x) = p, by bisection. Precondition: freedoms > 0, 0 < p < 1.
[[nodiscard]] double chi_square_quantile(double freedoms, double p);

}  // namespace standpoint
