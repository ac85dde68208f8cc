// Against the C library in long double (64 bits of precision), which shares no code with it.

#include "geometry/logarithm.h"
#include "tests/draw.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

/// How far `x` is from `exact`, in steps of double at `exact`.
double ulps(double x, long double exact) {
  const double nearest = std::abs(static_cast<double>(exact));
  const double step = std::nextafter(nearest, std::numeric_limits<double>::infinity()) - nearest;
  return static_cast<double>(std::abs(static_cast<long double>(x) - exact) / step);
}

TEST(Logarithm, IsWithinAnUlp) {
  constexpr std::uint64_t kSeed = 20260201;
  test::Draw draw(kSeed);
  double worst = 0, worst_at = 0;
  for (int i = 0; i < 400000; ++i) {
    const double x = i % 3 == 0   ? std::exp2(draw.between(-1000, 1000))
                     : i % 3 == 1 ? draw.between(0, 1)
                                  : draw.between(0.6, 1.5);
    const double error = ulps(logarithm(x), std::log(static_cast<long double>(x)));
    if (error > worst) worst = error, worst_at = x;
  }
  EXPECT_LT(worst, 1) << "seed " << kSeed << ", at " << worst_at;
}

TEST(Logarithm, OfPowersOfTwoAndNearOne) {
  EXPECT_EQ(logarithm(1), 0);
  for (int e = -1074; e <= 1023; ++e) {
    const double x = std::ldexp(1.0, e);
    EXPECT_LT(ulps(logarithm(x), std::log(static_cast<long double>(x))), 1) << e;
  }
  for (double step = 0x1p-52; step < 0.1; step *= 1.7) {
    for (const double x : {1 + step, 1 - step / 2}) {
      if (x != 1) EXPECT_LT(ulps(logarithm(x), std::log(static_cast<long double>(x))), 1) << x;
    }
  }
}

TEST(Exponential, IsWithinAnUlp) {
  constexpr std::uint64_t kSeed = 20260202;
  test::Draw draw(kSeed);
  double worst = 0, worst_at = 0;
  for (int i = 0; i < 400000; ++i) {
    const double x = i % 2 == 0 ? draw.between(-700, 709) : draw.between(-2, 2);
    const double error = ulps(exponential(x), std::exp(static_cast<long double>(x)));
    if (error > worst) worst = error, worst_at = x;
  }
  EXPECT_LT(worst, 1) << "seed " << kSeed << ", at " << worst_at;
}

TEST(Exponential, AtTheEnds) {
  EXPECT_EQ(exponential(0), 1);
  EXPECT_EQ(exponential(-800), 0);
  EXPECT_EQ(exponential(-1e300), 0);
  EXPECT_EQ(exponential(709.9), std::numeric_limits<double>::infinity());
  EXPECT_EQ(exponential(1e300), std::numeric_limits<double>::infinity());
  EXPECT_EQ(exponential(-745.0), std::numeric_limits<double>::denorm_min());
}

}  // namespace
}  // namespace standpoint
