// Against the C library in long double (64 bits of precision), which shares no code with it.

#include "geometry/trigonometry.h"
#include "tests/draw.h"

#include <cmath>
#include <limits>
#include <numbers>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

/// How far `x` is from `exact`, in steps of double at `exact`.
double ulps(double x, long double exact) {
  const auto nearest = static_cast<double>(exact);
  const double step = std::nextafter(std::abs(nearest), std::numeric_limits<double>::infinity()) -
                      std::abs(nearest);
  return static_cast<double>(std::abs(static_cast<long double>(x) - exact) / step);
}

/// The greatest error over many arguments.
struct Worst {
  double error = 0;
  int at = 0;  ///< which number seen, from 1
  void see(double x, long double exact) {
    ++seen;
    if (const double here = ulps(x, exact); here > error) error = here, at = seen;
  }
  int seen = 0;
};

constexpr int kTries = 400000;

/// Either sign, from 2^-12 to 2^12.
double signed_size(test::Draw& draw) {
  const double size = std::exp2(draw.between(-12, 12));
  return draw.chance(0.5) ? size : -size;
}

TEST(Trigonometry, SineAndCosineAreWithinAnUlp) {
  test::Draw draw(20260101);
  Worst sines, cosines, tangents;
  for (int i = 0; i < kTries; ++i) {
    const double range = i % 2 == 0 ? 7 : 1e5;
    const double x = draw.between(-range, range);
    sines.see(sine(x), std::sin(static_cast<long double>(x)));
    cosines.see(cosine(x), std::cos(static_cast<long double>(x)));
    tangents.see(tangent(x), std::tan(static_cast<long double>(x)));
  }
  EXPECT_LT(sines.error, 1) << "seed 20260101, draw " << sines.at;
  EXPECT_LT(cosines.error, 1) << "seed 20260101, draw " << cosines.at;
  EXPECT_LT(tangents.error, 3) << "seed 20260101, draw " << tangents.at;
}

TEST(Trigonometry, NearQuarterTurnsNothingIsLost) {
  Worst worst;
  for (int k = -40; k <= 40; ++k) {
    const double x = k * (std::numbers::pi / 4);
    for (const double near : {x, std::nextafter(x, 100.0), std::nextafter(x, -100.0)}) {
      worst.see(sine(near), std::sin(static_cast<long double>(near)));
      worst.see(cosine(near), std::cos(static_cast<long double>(near)));
    }
  }
  EXPECT_LT(worst.error, 1);
  EXPECT_EQ(sine(0.0), 0.0);
  EXPECT_EQ(cosine(0.0), 1.0);
  EXPECT_EQ(cosine(std::numbers::pi), -1.0);
  EXPECT_EQ(sine(std::numbers::pi / 2), 1.0);
}

TEST(Trigonometry, ArcTangentIsNearlyAlwaysTheNearestNumber) {
  test::Draw draw(20260102);
  Worst worst;
  int off = 0;
  for (int i = 0; i < kTries; ++i) {
    const double x = signed_size(draw), y = signed_size(draw);
    const long double exact = std::atan2(static_cast<long double>(y), static_cast<long double>(x));
    worst.see(arc_tangent(y, x), exact);
    off += arc_tangent(y, x) != static_cast<double>(exact) ? 1 : 0;
  }
  EXPECT_LT(worst.error, 0.51) << "seed 20260102, draw " << worst.at;
  EXPECT_LT(off, kTries / 100);
}

TEST(Trigonometry, ArcTangentOfSpecialPoints) {
  for (const double y : {0.0, -0.0, 1.0, -1.0, 1e-300, 1e5}) {
    for (const double x : {0.0, -0.0, 1.0, -1.0, 3.0, 1e-300, 1e5}) {
      EXPECT_EQ(arc_tangent(y, x), std::atan2(y, x)) << y << ' ' << x;
      EXPECT_EQ(std::signbit(arc_tangent(y, x)), std::signbit(std::atan2(y, x))) << y << ' ' << x;
    }
  }
}

TEST(Trigonometry, ArcSineIsNearlyAlwaysTheNearestNumber) {
  test::Draw draw(20260103);
  Worst worst;
  for (int i = 0; i < kTries; ++i) {
    const double any = draw.between(-1, 1);
    const double near_one = 1 - std::exp2(-20 + 19 * any);
    const double x = i % 3 != 0 ? any : draw.chance(0.5) ? near_one : -near_one;
    worst.see(arc_sine(x), std::asin(static_cast<long double>(x)));
  }
  EXPECT_LT(worst.error, 0.51) << "seed 20260103, draw " << worst.at;
  EXPECT_EQ(arc_sine(0.5), std::asin(0.5));
  EXPECT_EQ(arc_sine(1.0), std::numbers::pi / 2);
  EXPECT_EQ(arc_sine(-1.0), -std::numbers::pi / 2);
  EXPECT_EQ(arc_sine(0.0), 0.0);
}

}  // namespace
}  // namespace standpoint
