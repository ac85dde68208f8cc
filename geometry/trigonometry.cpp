#include "geometry/trigonometry.h"

#include <array>
#include <utility>

namespace standpoint {
namespace {

/// A number as an unevaluated sum, |low| <= ulp(high) / 2: about 106 bits.
struct Pair {
  double high = 0;
  double low = 0;
};

/// Exact sum where |a| >= |b|, or a = 0 (Dekker, "A Floating-Point Technique for Extending the
/// Available Precision", Numer. Math. 18, 1971, section 4).
Pair sum_of(double a, double b) {
  const double high = a + b;
  return {high, b - (high - a)};
}

/// Exact product, without a fused multiply-add (Dekker, as above, section 5). |a|, |b| < 1e150.
Pair product_of(double a, double b) {
  constexpr double kSplit = 134217729;  // 2^27 + 1
  const double ca = kSplit * a, cb = kSplit * b;
  const double a1 = ca - (ca - a), b1 = cb - (cb - b);
  const double a2 = a - a1, b2 = b - b1;
  const double high = a * b;
  return {high, ((a1 * b1 - high) + a1 * b2 + a2 * b1) + a2 * b2};
}

constexpr Pair kHalfTurn{0x1.921fb54442d18p+1, 0x1.1a62633145c07p-53};     // pi
constexpr Pair kQuarterTurn{0x1.921fb54442d18p+0, 0x1.1a62633145c07p-54};  // pi / 2

/// x = quarters * pi/2 + rest, |rest| <= pi/4 and a little.
struct Reduced {
  int quarters;  ///< modulo 4
  Pair rest;
};

/// Cody and Waite ("Software Manual for the Elementary Functions", 1980, chapter 8): pi/2 in three
/// parts, the first two of 33 bits, so that their products with a count below 2^20 are exact.
Reduced reduced(double x) {
  constexpr double kFirst = 0x1.921fb544p+0, kSecond = 0x1.0b4611a6p-34,
                   kThird = 0x1.3198a2e037073p-69;
  const double count = std::floor(x * (1 / kQuarterTurn.high) + 0.5);
  const double a = x - count * kFirst;  // exact: close to each other
  const double b = count * kSecond;     // exact: 33 + 20 bits
  const double high = a - b;
  const double low = ((a - high) - b) - count * kThird;
  const auto whole = static_cast<long long>(count);
  const double rest = high + low;
  return {static_cast<int>(((whole % 4) + 4) % 4), {rest, (high - rest) + low}};
}

/// Taylor's series to x^17 and x^16: what is left out is below 1e-19 for |x| <= 0.79.
double sine_of(const Pair& x) {
  const double x2 = x.high * x.high;
  double s = 1.0 / 355687428096000;
  s = s * x2 - 1.0 / 1307674368000;
  s = s * x2 + 1.0 / 6227020800;
  s = s * x2 - 1.0 / 39916800;
  s = s * x2 + 1.0 / 362880;
  s = s * x2 - 1.0 / 5040;
  s = s * x2 + 1.0 / 120;
  s = s * x2 - 1.0 / 6;
  return x.high + (x.low * (1 - x2 / 2) + x.high * x2 * s);
}

double cosine_of(const Pair& x) {
  const double x2 = x.high * x.high;
  double s = 1.0 / 20922789888000;
  s = s * x2 - 1.0 / 87178291200;
  s = s * x2 + 1.0 / 479001600;
  s = s * x2 - 1.0 / 3628800;
  s = s * x2 + 1.0 / 40320;
  s = s * x2 - 1.0 / 720;
  s = s * x2 + 1.0 / 24;
  const double half = x2 / 2;
  const double high = 1 - half;
  return high + (((1 - high) - half) + (x2 * x2 * s - x.high * x.low));
}

/// atan(k / 16), k = 0..16: rounded, and what rounding took (computed with 80 digits).
constexpr std::array<Pair, 17> kArcTangents{{
    {0, 0},
    {0x1.ff55bb72cfdeap-5, -0x1.c934d86d23f1dp-60},
    {0x1.fd5ba9aac2f6ep-4, -0x1.cd37686760c17p-59},
    {0x1.7b97b4bce5b02p-3, 0x1.347b0b4f881cap-58},
    {0x1.f5b75f92c80ddp-3, 0x1.8ab6e3cf7afbdp-57},
    {0x1.362773707ebccp-2, -0x1.963a544b672d8p-57},
    {0x1.6f61941e4def1p-2, -0x1.c63aae6f6e918p-56},
    {0x1.a64eec3cc23fdp-2, -0x1.24dec1b50b7ffp-56},
    {0x1.dac670561bb4fp-2, 0x1.a2b7f222f65e2p-56},
    {0x1.0657e94db30d0p-1, -0x1.d5b495f6349e6p-56},
    {0x1.1e00babdefeb4p-1, -0x1.928df287a668fp-58},
    {0x1.345f01cce37bbp-1, 0x1.1021137c71102p-55},
    {0x1.4978fa3269ee1p-1, 0x1.2419a87f2a458p-56},
    {0x1.5d58987169b18p-1, 0x1.0028e4bc5e7cap-57},
    {0x1.700a7c5784634p-1, -0x1.8c34d25aadef6p-56},
    {0x1.819d0b7158a4dp-1, -0x1.bf76229d3b917p-56},
    {0x1.921fb54442d18p-1, 0x1.1a62633145c07p-55},
}};

/// atan(n / d) for 0 <= n <= d, d > 0.
/// With c = k / 16 near n / d: atan(n / d) = atan(c) + atan(u), u = (n - c d) / (d + c n), so that
/// |u| <= 1/32 and Taylor's series is short: to u^11, what is left out is below 1e-20.
Pair arc_tangent_below_one(double n, const Pair& d) {
  const double k = std::floor(16 * (n / d.high) + 0.5);
  const double c = k / 16;
  const Pair cd = product_of(c, d.high), cn = product_of(c, n);
  const Pair over = sum_of(n - cd.high, -(cd.low + c * d.low));  // the first difference is exact
  const Pair under = sum_of(d.high, cn.high);
  const double u = over.high / under.high;
  const Pair back = product_of(u, under.high);
  const double u_low =
      (((over.high - back.high) - back.low) + (over.low - u * (under.low + cn.low + d.low))) /
      under.high;
  const double u2 = u * u;
  double s = -1.0 / 11;
  s = s * u2 + 1.0 / 9;
  s = s * u2 - 1.0 / 7;
  s = s * u2 + 1.0 / 5;
  s = s * u2 - 1.0 / 3;
  const Pair& base = kArcTangents[static_cast<std::size_t>(k)];
  const Pair sum = sum_of(base.high, u);
  return sum_of(sum.high, sum.low + (base.low + (u_low + u * u2 * s)));
}

/// a - b, where |a| >= |b|.
Pair difference_of(const Pair& a, const Pair& b) {
  const Pair sum = sum_of(a.high, -b.high);
  return sum_of(sum.high, sum.low + (a.low - b.low));
}

/// The angle of (x, y) for y >= 0 and x a pair, from 0 to pi.
double arc_tangent_above(double y, const Pair& x) {
  const Pair across = x.high < 0 ? Pair{-x.high, -x.low} : x;
  Pair angle;
  if (y == 0) {
    angle = {0, 0};
  } else if (y <= across.high) {
    angle = arc_tangent_below_one(y, across);
  } else {
    // atan(y / x) = pi/2 - atan(x / y)
    angle = arc_tangent_below_one(across.high, {y, 0});
    // by the slope of atan, 1 / (1 + (x / y)^2) / y; what follows it is far below
    const double ratio = across.high / y;
    angle.low += across.low / y / (1 + ratio * ratio);
    angle = difference_of(kQuarterTurn, angle);
  }
  if (std::signbit(x.high)) angle = difference_of(kHalfTurn, angle);
  return angle.high + angle.low;
}

}  // namespace

double sine(double x) {
  const Reduced r = reduced(x);
  const double s = r.quarters % 2 == 0 ? sine_of(r.rest) : cosine_of(r.rest);
  return r.quarters >= 2 ? -s : s;
}

double cosine(double x) {
  const Reduced r = reduced(x);
  const double c = r.quarters % 2 == 0 ? cosine_of(r.rest) : sine_of(r.rest);
  return r.quarters == 1 || r.quarters == 2 ? -c : c;
}

double tangent(double x) {
  const Reduced r = reduced(x);
  const double s = sine_of(r.rest), c = cosine_of(r.rest);
  return r.quarters % 2 == 0 ? s / c : -c / s;
}

double arc_tangent(double y, double x) {
  return std::copysign(arc_tangent_above(std::abs(y), {x, 0}), y);
}

double arc_sine(double x) {
  // asin(x) = atan2(x, sqrt(1 - x^2)), the root as a pair.
  const Pair square = product_of(x, x);
  const Pair rest = sum_of(1, -square.high);
  const double q = rest.high + (rest.low - square.low);
  const double root = std::sqrt(q);
  if (root == 0) return std::copysign(kQuarterTurn.high, x);
  const Pair back = product_of(root, root);
  const double exact_rest = ((rest.high - back.high) - back.low) + (rest.low - square.low);
  const double angle = arc_tangent_above(std::abs(x), {root, exact_rest / (2 * root)});
  return std::copysign(angle, x);
}

}  // namespace standpoint
