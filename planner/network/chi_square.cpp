#include "planner/network/chi_square.h"

#include <cmath>

#include "geometry/logarithm.h"

namespace standpoint {
namespace {

/// A term this small a share of the sum no longer changes it.
constexpr double kEnough = 1e-16;
/// Terms needed near the middle grow as the root of the degrees of freedom; a million need some
/// 10^4.
constexpr int kMostTerms = 1'000'000;

/// ln gamma(a), a > 0, by Stirling's series (M. Abramowitz and I. A. Stegun, Handbook of
/// Mathematical Functions, 6.1.41), which at 15 and above is good to the last digits; below it by
/// way of gamma(a + 1) = a gamma(a).
double log_gamma(double a) {
  double product = 1;
  for (; a < 15; a += 1) product *= a;
  constexpr double kHalfLogOfTwoPi = 0.91893853320467274178;
  const double square = a * a;
  const double series =
      (1.0 / 12 -
       (1.0 / 360 - (1.0 / 1260 - (1.0 / 1680 - 1.0 / 1188 / square) / square) / square) / square) /
      a;
  return (a - 0.5) * logarithm(a) - a + kHalfLogOfTwoPi + series - logarithm(product);
}

/// x^a e^-x / gamma(a)
double front(double a, double x) {
  return exponential(a * logarithm(x) - x - log_gamma(a));
}

double lower_by_series(double a, double x) {
  double term = 1 / a, sum = term;
  for (int n = 1; n < kMostTerms && term > kEnough * sum; ++n) {
    term *= x / (a + n);
    sum += term;
  }
  return front(a, x) * sum;
}

double upper_by_fraction(double a, double x) {
  double b = x + 1 - a, c = 1e300, d = 1 / b, value = d;
  for (int n = 1; n < kMostTerms; ++n) {
    const double numerator = -n * (n - a);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    value *= c * d;
    if (std::abs(c * d - 1) < kEnough * 10) break;
  }
  return front(a, x) * value;
}

}  // namespace

double chi_square_probability(double degrees_of_freedom, double x) {
  const double a = degrees_of_freedom / 2, half = x / 2;
  if (!(half > 0)) return 0;
  return half < a + 1 ? lower_by_series(a, half) : 1 - upper_by_fraction(a, half);
}

double chi_square_quantile(double degrees_of_freedom, double p) {
  double low = 0, high = degrees_of_freedom + 10;
  while (chi_square_probability(degrees_of_freedom, high) < p) high *= 2;
  // Halved until the ends are neighbours: some sixty times.
  for (double middle = high / 2; low < middle && middle < high; middle = low + (high - low) / 2)
    (chi_square_probability(degrees_of_freedom, middle) < p ? low : high) = middle;
  return high;
}

}  // namespace standpoint
