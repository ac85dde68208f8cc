#include "planner/network/chi_square.h"

#include <cmath>

namespace standpoint {
namespace {

/// A term this small a share of the sum no longer changes it.
constexpr double kEnough = 1e-16;
/// Terms needed near the middle grow as the root of the freedoms; a million need some 10^4.
constexpr int kMostTerms = 1'000'000;

/// x^a e^-x / gamma(a)
double front(double a, double x) {
  return std::exp(a * std::log(x) - x - std::lgamma(a));
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

double chi_square_probability(double freedoms, double x) {
  const double a = freedoms / 2, half = x / 2;
  if (!(half > 0)) return 0;
  return half < a + 1 ? lower_by_series(a, half) : 1 - upper_by_fraction(a, half);
}

double chi_square_quantile(double freedoms, double p) {
  double low = 0, high = freedoms + 10;
  while (chi_square_probability(freedoms, high) < p) high *= 2;
  // Halved until the ends are neighbours: some sixty times.
  for (double middle = high / 2; low < middle && middle < high; middle = low + (high - low) / 2)
    (chi_square_probability(freedoms, middle) < p ? low : high) = middle;
  return high;
}

}  // namespace standpoint
