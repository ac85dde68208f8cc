#include "planner/setup/rigid_fit.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>
#include <Eigen/Geometry>

#include "planner/network/network.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

Pose pose_of(const Vec3& axis, double angle, const Vec3& translation) {
  Pose pose = Pose::Identity();
  pose.linear() = Eigen::AngleAxisd(angle, axis.normalized()).toRotationMatrix();
  pose.translation() = translation;
  return pose;
}

std::vector<FitPoint> seen_from(const Pose& world_from_instrument, const std::vector<Vec3>& places,
                                const Mat3& covariance = Mat3::Identity()) {
  std::vector<FitPoint> points;
  for (const Vec3& place : places)
    points.push_back({place, world_from_instrument.inverse() * place, covariance});
  return points;
}

// Umeyama, IEEE TPAMI 13(4) (1991), the example of section III: the triangle is mirrored, and the
// best rotation is not the best orthogonal matrix. Values computed independently.
TEST(BestSimilarity, IsNoReflectionWhereTheTriangleIsMirrored) {
  Eigen::MatrixXd from(2, 3), to(2, 3);
  from << 0, 1, 0, 0, 0, 2;
  to << 0, -1, 0, 0, 0, 2;
  const Similarity best = best_similarity(from, to);
  Eigen::Matrix2d rotation;
  rotation << .83205, .55470, -.55470, .83205;
  EXPECT_LT((best.rotation - rotation).cwiseAbs().maxCoeff(), 5e-6);
  EXPECT_NEAR(best.scale, .721110, 5e-7);
  EXPECT_NEAR(best.translation[0], -.8, 1e-12);
  EXPECT_NEAR(best.translation[1], .4, 1e-12);
  EXPECT_NEAR(best.mean_square, .53333, 5e-6);
}

// Grafarend and Awange, J. Geodesy 77 (2003): seven points round Stuttgart, local to WGS 84, m.
// Coordinates as published; scale, shift, rotations and residual computed independently.
TEST(BestSimilarity, SevenStuttgartPoints) {
  Eigen::MatrixXd from(7, 3), to(7, 3);
  from << 4157222.543, 664789.307, 4774952.099, 4149043.336, 688836.443, 4778632.188, 4172803.511,
      690340.078, 4758129.701, 4177148.376, 642997.635, 4760764.800, 4137012.190, 671808.029,
      4791128.215, 4146292.729, 666952.887, 4783859.856, 4138759.902, 702670.738, 4785552.196;
  to << 4157870.237, 664818.678, 4775416.524, 4149691.049, 688865.785, 4779096.588, 4173451.354,
      690369.375, 4758594.075, 4177796.064, 643026.700, 4761228.899, 4137659.549, 671837.337,
      4791592.531, 4146940.228, 666982.151, 4784324.099, 4139407.506, 702700.227, 4786016.645;
  const Similarity best = best_similarity(from.transpose(), to.transpose());
  EXPECT_NEAR(best.scale, 1.00000558252, 5e-11);
  EXPECT_LT((best.translation - Vec3(641.8804, 68.6553, 416.3982)).cwiseAbs().maxCoeff(), 2e-4);
  constexpr double kArcsec = std::numbers::pi / 180 / 3600;
  // Small rotations of the points: the skew part.
  EXPECT_NEAR(best.rotation(2, 1) / kArcsec, .99850, 2e-5);
  EXPECT_NEAR(best.rotation(0, 2) / kArcsec, -.89370, 2e-5);
  EXPECT_NEAR(best.rotation(1, 0) / kArcsec, -.99309, 2e-5);
  const Vec3 left = to.row(0).transpose() -
                    (best.scale * best.rotation * from.row(0).transpose() + best.translation);
  EXPECT_LT((left - Vec3(.0940, .1351, .1402)).cwiseAbs().maxCoeff(), 2e-4);
}

const std::vector<Vec3> kKite = {{1, 1, 0}, {-.5, .5, 0}, {-1, -1, 0}, {.5, -.5, 0}};
const std::vector<Vec3> kSquare = {{1, 1, 0}, {-1, 1, 0}, {-1, -1, 0}, {1, -1, 0}};

// Fitzpatrick, West and Maurer, IEEE Trans. Med. Imaging 17(5) (1998), eq. 46, FLE^2 = 3 sigma^2
// = 1. Values: the public test suite of scikit-surgerycore.
TEST(RigidFit, PredictsFitzpatricksTargetRegistrationError) {
  const auto square = [](const std::vector<Vec3>& places, const Vec3& target) {
    const Pose pose = pose_of({1, 2, 3}, 2.5, {40, -7, 3});
    const RigidFit fit = fit_rigidly(seen_from(pose, places, Mat3::Identity() / 3));
    return carry_pose(fit.covariance, pose.translation(), target).trace();
  };
  EXPECT_NEAR(square(kKite, {0, 0, 0}), .25, 1e-10);
  EXPECT_NEAR(square(kKite, {2, 0, 0}), 1.35, 1e-10);
  EXPECT_NEAR(square(kSquare, {2, 0, 0}), .75, 1e-10);
}

TEST(RigidFit, FindsThePoseOfPerfectObservationsInAnyPosture) {
  Draw draw(7);
  for (int i = 0; i < 300; ++i) {
    SCOPED_TRACE("seed 7, case " + std::to_string(i));
    // Half turns on purpose, and instruments far off a small group of nests.
    const double angle = i % 5 == 0 ? std::numbers::pi : draw.between(-3.2, 3.2);
    const Pose pose =
        pose_of(draw.direction(), angle, draw.in_box(Vec3::Constant(-3e4), Vec3::Constant(3e4)));
    std::vector<Vec3> places;
    const std::size_t count = 3 + draw.below(6);
    const double size = draw.between(500, 8000);
    for (std::size_t k = 0; k < count; ++k)
      places.push_back(draw.in_box(Vec3::Constant(-size), Vec3::Constant(size)));
    auto points = seen_from(pose, places);
    for (FitPoint& point : points) {
      const Vec3 b = point.in_instrument.normalized();
      point.covariance = 1e-4 * (Mat3::Identity() - .9 * b * b.transpose());
    }
    const RigidFit fit = fit_rigidly(points);
    for (const Vec3& residual : fit.residuals) EXPECT_LT(residual.norm(), 1e-9);
    EXPECT_LT((fit.world_from_instrument.linear() - pose.linear()).norm(), 1e-9);
    EXPECT_NEAR(fit.world_from_instrument.linear().determinant(), 1, 1e-12);
  }
}

double square_sum(const std::vector<FitPoint>& points, const Pose& world_from_instrument) {
  double sum = 0;
  for (const FitPoint& point : points) {
    const Vec3 left = point.in_instrument - world_from_instrument.inverse() * point.in_world;
    sum += left.dot(point.covariance.inverse() * left);
  }
  return sum;
}

// The oracle is the definition: no pose near the fitted one has a lesser weighted sum.
TEST(RigidFit, NoPoseNearbyIsBetter) {
  Draw draw(11);
  for (int i = 0; i < 100; ++i) {
    SCOPED_TRACE("seed 11, case " + std::to_string(i));
    const Pose pose = pose_of(draw.direction(), draw.between(-3, 3), 9000 * Vec3(draw.direction()));
    std::vector<Vec3> places;
    for (int k = 0; k < 6; ++k)
      places.push_back(draw.in_box(Vec3::Constant(-2000), Vec3::Constant(2000)));
    auto points = seen_from(pose, places);
    for (FitPoint& point : points) {
      const Vec3 b = point.in_instrument.normalized();
      point.covariance = 1e-2 * (Mat3::Identity() - .99 * b * b.transpose());
      // Gross on purpose: the plain closed form is then far from the weighted best.
      point.in_instrument += draw.between(0, 20) * Vec3(draw.direction());
    }
    const RigidFit fit = fit_rigidly(points);
    EXPECT_NEAR(fit.chi_square, square_sum(points, fit.world_from_instrument),
                1e-9 * fit.chi_square);
    double sum = 0;
    for (const double one : fit.normalised) sum += one * one;
    EXPECT_NEAR(sum, fit.chi_square, 1e-9 * fit.chi_square);
    for (int k = 0; k < 40; ++k) {
      const Pose near = pose_of(draw.direction(), draw.between(-1e-6, 1e-6),
                                draw.between(0, 1e-2) * Vec3(draw.direction()));
      EXPECT_GT(square_sum(points, near * fit.world_from_instrument), fit.chi_square);
    }
    // Central differences of the sum along each of the six ways to move: flat to 1e-9 mm.
    for (int axis = 0; axis < 6; ++axis) {
      const auto moved_by = [&](double step) {
        const Vec3 e = Vec3::Unit(axis % 3);
        Pose move =
            pose_of(e, axis < 3 ? 0 : step / 2000, axis < 3 ? Vec3(step * e) : Vec3::Zero());
        return square_sum(points, move * fit.world_from_instrument);
      };
      const double h = 1e-2;
      const double slope = (moved_by(h) - moved_by(-h)) / (2 * h);
      const double bend = (moved_by(h) + moved_by(-h) - 2 * fit.chi_square) / (h * h);
      EXPECT_LT(std::abs(slope / bend), 1e-5);  // rounding of sums of some 1e6
    }
  }
}

}  // namespace
}  // namespace standpoint::test
