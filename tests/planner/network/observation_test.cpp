#include <gtest/gtest.h>

#include <cmath>

#include "geometry/vec.h"
#include "networks.h"
#include "planner/network/propagate.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

using testing::example_error;

// Invented limits, of the form a + b L that ISO 10360-10:2021 Annex D has (quoted second-hand); a
// limit is `coverage_factor` standard uncertainties. Across the beam 14 um + 7.5 um/m, worked out
// by hand: 14 + 15 = 29 um at 2 m, 14 + 45 = 59 um at 6 m. Along it 12 um + 0.9 um/m: 13.8 um
// and 17.4 um.
TEST(Observation, LimitsAre29And59MicrometresAcrossTheBeamAt2And6Metres) {
  const Vec3 station(100, -200, 1500);
  const Vec3 beam = Vec3(1, 2, -.5).normalized();
  struct Limits {
    double metres, across, along;
  };
  for (const auto& [metres, across_limit, along_limit] :
       {Limits{2, .029, .0138}, {6, .059, .0174}}) {
    const Mat3 covariance =
        observation_covariance(example_error(), station, station + 1000 * metres * beam);
    const Vec3 across = any_perpendicular(beam);
    const Vec3 other = beam.cross(across);
    EXPECT_NEAR(2 * std::sqrt(across.dot(covariance * across)), across_limit, 1e-12);
    EXPECT_NEAR(2 * std::sqrt(other.dot(covariance * other)), across_limit, 1e-12);
    EXPECT_NEAR(2 * std::sqrt(beam.dot(covariance * beam)), along_limit, 1e-12);
  }
}

// Range, azimuth and elevation with independent errors, carried to the world by differences.
TEST(Observation, EqualsThePolarModelInEveryDirection) {
  test::Draw draw(1);
  const Vec3 station(1000, 2000, 1400);
  for (int i = 0; i < 50; ++i) {
    const Vec3 point = draw.in_box({-9000, -9000, -1000}, {9000, 9000, 4000});
    const Mat3 expected = testing::polar_covariance(example_error(), station, point);
    EXPECT_LT(testing::relative_difference(observation_covariance(example_error(), station, point),
                                           expected),
              1e-8)
        << "case " << i;
  }
}

// The Jacobians of docs/uncertainty.md: of range, azimuth and elevation by the station's
// translation and rotation and by the nest's place, against differences of the non-linear model.
TEST(Observation, AnalyticJacobiansEqualDifferencesOfTheNonLinearModel) {
  test::Draw draw(2);
  for (int i = 0; i < 50; ++i) {
    const Vec3 station = draw.in_box({-5000, -5000, 800}, {5000, 5000, 2000});
    const Vec3 nest = draw.in_box({-3000, -3000, 0}, {3000, 3000, 3000});
    const Vec3 local = nest - station;
    Mat3 polar_by_local;  // analytic: rows range, azimuth, elevation
    const double flat = std::hypot(local[0], local[1]), range = local.norm();
    polar_by_local.row(0) = local.transpose() / range;
    polar_by_local.row(1) << -local[1] / (flat * flat), local[0] / (flat * flat), 0;
    polar_by_local.row(2) << -local[0] * local[2] / (range * range * flat),
        -local[1] * local[2] / (range * range * flat), flat / (range * range);
    Eigen::Matrix<double, 3, 9> analytic;
    analytic.leftCols<6>() = -polar_by_local * rigid_shift(local);
    analytic.rightCols<3>() = polar_by_local;

    Eigen::Matrix<double, 3, 9> differences;
    for (int k = 0; k < 9; ++k) {
      const double step = (k >= 3 && k < 6) ? 1e-5 : 1e-2;
      const auto model = [&](double by) {
        Vec6 pose = Vec6::Zero();
        Vec3 shift = Vec3::Zero();
        (k < 6 ? pose[k] : shift[k - 6]) = by;
        return testing::polar<double>(testing::seen(station, pose, nest + shift));
      };
      differences.col(k) = (model(step) - model(-step)) / (2 * step);
    }
    for (int k = 0; k < 9; ++k)
      for (int row = 0; row < 3; ++row)
        EXPECT_NEAR(analytic(row, k), differences(row, k),
                    1e-6 * std::max(analytic.row(row).cwiseAbs().maxCoeff(), 1e-3))
            << "case " << i << " row " << row << " column " << k;
  }
}

TEST(Observation, ExpandedIsTwiceTheLongestSemiAxis) {
  const Mat3 turn = testing::turn({.3, -.8, 1.1});
  const Mat3 covariance = turn * Vec3(1, 9, 4).asDiagonal() * turn.transpose();
  EXPECT_NEAR(point_uncertainty(covariance).expanded, 6, 1e-12);
  EXPECT_EQ(point_uncertainty(Mat3::Zero()).expanded, 0);
}

TEST(Observation, PoseIsCarriedAsARigidMotion) {
  // Rotation of u = 1e-5 rad about z alone: a point 2 m along x is uncertain by .02 mm along y.
  Mat6 pose = Mat6::Zero();
  pose(5, 5) = 1e-10;
  const Mat3 carried = carry_pose(pose, {100, 100, 100}, {2100, 100, 700});
  Mat3 expected = Mat3::Zero();
  expected(1, 1) = 4e-4;
  EXPECT_LT((carried - expected).norm(), 1e-16);
}

}  // namespace
}  // namespace standpoint
