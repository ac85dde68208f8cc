#include <gtest/gtest.h>

#include <cmath>

#include "networks.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

// JCGM 100:2008 (GUM), example H.2, table H.2 and H.4: resistance R, reactance X and impedance Z
// from V, I and phase. Expected values as computed from the rounded inputs (checks: computed; the
// guide's own, from unrounded inputs, are u .071, .295, .236).
TEST(Propagation, GumH2PolarToCartesianWithCorrelatedInputs) {
  const double V = 4.9990, I = 19.6610e-3, phi = 1.04446;
  const Vec3 u(.0032, .0095e-3, .00075);
  Mat3 r;
  r << 1, -.36, .86, -.36, 1, -.65, .86, -.65, 1;
  const Mat3 covariance = u.asDiagonal() * r * u.asDiagonal();
  Mat3 jacobian;
  jacobian << std::cos(phi) / I, -V * std::cos(phi) / (I * I), -V / I * std::sin(phi),
      std::sin(phi) / I, -V * std::sin(phi) / (I * I), V / I * std::cos(phi), 1 / I, -V / (I * I),
      0;
  const Mat3 y = propagate(jacobian, covariance);
  EXPECT_NEAR(std::sqrt(y(0, 0)), .070, .0005);
  EXPECT_NEAR(std::sqrt(y(1, 1)), .296, .0005);
  EXPECT_NEAR(std::sqrt(y(2, 2)), .237, .0005);
  const auto correlation = [&](int a, int b) { return y(a, b) / std::sqrt(y(a, a) * y(b, b)); };
  // The guide's correlations; the rounding of the inputs moves them by a few units of the third
  // decimal.
  EXPECT_NEAR(correlation(0, 1), -.588, .015);
  EXPECT_NEAR(correlation(0, 2), -.485, .015);
  EXPECT_NEAR(correlation(1, 2), .993, .001);
}

// JCGM 102:2011, 9.3: Cartesian to polar, u = .010 each, x2 = 0, r = 0. The law of propagation
// gives u(magnitude) = .010 and u(phase) = .010 / x1 (tables of 9.3: 10.000, 1.000, .100).
TEST(Propagation, Jcgm102CartesianToPolarByTheLinearLaw) {
  for (const auto& [x1, phase] : {std::pair{.001, 10.0}, {.010, 1.0}, {.100, .1}}) {
    Eigen::Matrix2d jacobian;
    jacobian << 1, 0, 0, 1 / x1;
    const Eigen::Matrix2d covariance = Eigen::Matrix2d::Identity() * 1e-4;
    const Eigen::Matrix2d y = propagate(jacobian, covariance);
    EXPECT_NEAR(std::sqrt(y(0, 0)), .010, 1e-12);
    EXPECT_NEAR(std::sqrt(y(1, 1)), phase, 1e-9 * phase);
  }
}

// JCGM 101:2008, 9.4: y = x1^2 + x2^2 with u = .005, x2 = 0. The exact variance is
// 4 x1^2 u^2 + 4 u^4 (closed form, r = 0); the linear law gives the first term, so it is good where
// x1 >> u and blind at x1 = 0. This bounds where the law may be used.
TEST(Propagation, Jcgm101TheLinearLawIsGoodFarFromTheStationaryPointOnly) {
  const double u = .005;
  const auto linear = [&](double x1) {
    const Eigen::RowVector2d jacobian(2 * x1, 0);
    return propagate(jacobian, Eigen::Matrix2d::Identity() * u * u)(0, 0);
  };
  const auto exact = [&](double x1) { return 4 * x1 * x1 * u * u + 4 * std::pow(u, 4); };
  EXPECT_EQ(linear(0), 0);
  EXPECT_NEAR(exact(0), 4 * std::pow(u, 4), 1e-18);
  EXPECT_NEAR(linear(.050) / exact(.050), 1, .011);  // x1 = 10 u: 1 / (1 + 1/100)
  EXPECT_LT(linear(.005) / exact(.005), .51);
}

TEST(Propagation, CrossMatrixAndRigidShiftAreTheCrossProduct) {
  const Vec3 a(1, -2, 3), w(.3, .5, -.7), t(4, 5, 6);
  EXPECT_LT((cross_matrix(a) * w - a.cross(w)).norm(), 1e-15);
  Vec6 motion;
  motion << t, w * 250;
  EXPECT_LT((rigid_shift(a, 250) * motion - (t + w.cross(a))).norm(), 1e-12);
}

}  // namespace
}  // namespace standpoint
