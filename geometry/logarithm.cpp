#include "geometry/logarithm.h"

#include <cmath>
#include <limits>

namespace standpoint {
namespace {

// ln 2 as a sum. The first has 33 bits, so that its product with an exponent is exact.
constexpr double kLn2First = 0x1.62e42fefp-1, kLn2Second = 0x1.473de6af278edp-34;

}  // namespace

double logarithm(double x) {
  // x = 2^e m with m about 1; frexp and ldexp only move the exponent.
  int e = 0;
  double m = std::frexp(x, &e);  // 0.5 <= m < 1
  if (m < 0.70710678118654752) {
    m *= 2;
    --e;
  }
  // With f = m - 1 (exact) and s = f / (2 + f): ln m = 2 atanh(s) = 2 s + s r, where
  // r = 2 (s^2 / 3 + s^4 / 5 + ...), and 2 s = f - s f. |s| < 0.172: what is left out is below
  // 1e-18 of 2 s.
  const double f = m - 1;
  const double s = f / (2 + f);
  const double s2 = s * s;
  double r = 0;
  for (int n = 21; n >= 3; n -= 2) r = (r + 2.0 / n) * s2;
  const double small = s * (f - r);
  return e * kLn2First + (f - (small - e * kLn2Second));
}

double exponential(double x) {
  if (x > 710) return std::numeric_limits<double>::infinity();
  if (x < -746) return 0;
  // x = k ln 2 + high + low with |high| < 0.35, so that Taylor's series is short: to the 14th
  // power, what is left out is below 1e-18.
  const double k = std::floor(x / (kLn2First + kLn2Second) + 0.5);
  const double a = x - k * kLn2First;  // exact: close to each other
  const double b = k * kLn2Second;
  const double high = a - b;
  const double low = (a - high) - b;
  double rest = 0;
  for (int n = 14; n >= 3; --n) rest = (rest + 1) * high / n;
  // 1 + (high + (high^2 / 2 (1 + rest) + low))
  return std::ldexp(1 + (high + (high * high / 2 * (1 + rest) + low)), static_cast<int>(k));
}

}  // namespace standpoint
