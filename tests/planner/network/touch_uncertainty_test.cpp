#include "planner/network/touch_uncertainty.h"

#include <gtest/gtest.h>

#include <cmath>

#include "networks.h"

namespace standpoint {
namespace {

/// Equal sigma in every direction and at every distance.
InstrumentError isotropic(double sigma) {
  return {1, {sigma, 0}, {sigma, 0}};
}

// Hidden-point rod, balls A and B at distance d, tip a beyond B, equal sigma:
// sqrt((1 + a/d)^2 + (a/d)^2) (first principles; values computed).
TEST(TouchUncertainty, HiddenPointRodFactors) {
  const Vec3 station(0, 0, 0), tip(3000, 100, 50), s = Vec3(.2, .9, .3).normalized();
  for (const auto& [ratio, factor] :
       {std::pair{.5, 1.5811}, {.75, 1.9039}, {1., 2.2361}, {2., 3.6056}}) {
    const double d = 200, a = ratio * d;
    const Reading reading = two_ball_reading(tip, s, {a, a + d});
    const Mat3 covariance = reading_covariance(isotropic(.01), station, reading);
    for (int k = 0; k < 3; ++k) EXPECT_NEAR(std::sqrt(covariance(k, k)) / .01, factor, 5e-5);
    EXPECT_LT((covariance - Mat3::Identity() * covariance(0, 0)).norm(), 1e-15);
  }
}

// The extrapolation itself, by definition: P = B + (a/d)(B - A) for any places of the balls.
TEST(TouchUncertainty, ReadingWeightsExtrapolateTheBalls) {
  const Vec3 tip(100, 200, 300), s = Vec3(1, -2, 2) / 3;
  const Reading reading = two_ball_reading(tip, s, {150, 350});
  const Vec3 b = tip + 150 * s, a = tip + 350 * s;
  EXPECT_LT((reading.sights[0].place - b).norm() + (reading.sights[1].place - a).norm(), 1e-12);
  const Vec3 eb(.1, .2, -.3), ea(-.2, .1, .4);
  const Vec3 moved = reading.sights[0].weight * (b + eb) + reading.sights[1].weight * (a + ea);
  const Vec3 expected = (b + eb) + 150. / 200 * ((b + eb) - (a + ea));
  EXPECT_LT((moved - expected).norm(), 1e-12);
}

TEST(TouchUncertainty, MirrorAddsItsOwnErrorSquaredToASightOfTheTip) {
  const Vec3 station(0, 0, 1500), tip(4000, 1000, 800);
  const Mat3 bare = observation_covariance(testing::example_error(), station, tip);
  const Mat3 mirror =
      reading_covariance(testing::example_error(), station, direct_reading(tip, .02));
  EXPECT_LT((mirror - bare - Mat3::Identity() * 4e-4).norm(), 1e-18);
  EXPECT_LT(
      (reading_covariance(testing::example_error(), station, direct_reading(tip)) - bare).norm(),
      1e-18);
}

// Both balls are seen from one pose, so the pose error is common to them: extrapolating the two
// carried errors gives the error carried to the tip, and not more.
TEST(TouchUncertainty, ThePoseOfATwoBallTouchIsCarriedOnce) {
  const Vec3 station(500, -3000, 1400), tip(800, 200, 300), s = Vec3(-.3, .2, .9).normalized();
  const Reading reading = two_ball_reading(tip, s, {150, 350}, .005);
  const Mat3 own = reading_covariance(testing::example_error(), station, reading);
  Mat6 root = Mat6::Random() * .01;
  root.bottomRows<3>() *= 1e-3;
  const Mat6 pose = root * root.transpose();
  // By simulation of the linear map: shift both balls by one pose error, extrapolate.
  Mat3 expected = own;
  for (int k = 0; k < 6; ++k) {
    const Vec3 t = root.col(k).head<3>(), w = root.col(k).tail<3>();
    const auto shift = [&](const Vec3& p) { return Vec3(t + w.cross(p - station)); };
    const Vec3 b = tip + 150 * s, a = tip + 350 * s;
    const Vec3 moved = shift(b) + 150. / 200 * (shift(b) - shift(a));
    expected += moved * moved.transpose();
  }
  const Mat3 touch = touch_covariance(pose, station, reading, own);
  EXPECT_LT(testing::relative_difference(touch, expected), 1e-10);
}

TEST(TouchUncertainty, EachKindOfTargetIsReadInItsOwnWay) {
  Scene scene;
  scene.full_targets = {{"ball", 19.05, .5, .7}};
  MirrorStylus mirror;
  mirror.error = .01;
  TwoBallStylus rod;
  rod.ball_distances = {100, 300};
  rod.error = .02;
  scene.offset_styli = {mirror, rod};
  Reached reached;
  reached.target = TargetId(0);
  const Vec3 place(1, 2, 3);
  EXPECT_EQ(reading_of(scene, reached, place).count, 1u);
  EXPECT_EQ(reading_of(scene, reached, place).error, 0);
  reached.target = TargetId(1);
  EXPECT_EQ(reading_of(scene, reached, place).count, 1u);
  EXPECT_EQ(reading_of(scene, reached, place).error, .01);
  reached.target = TargetId(2);
  reached.shank_direction = Vec3(0, 0, 1);
  const Reading reading = reading_of(scene, reached, place);
  EXPECT_EQ(reading.count, 2u);
  EXPECT_EQ(reading.error, .02);
  EXPECT_EQ(reading.place, place);
  EXPECT_DOUBLE_EQ(reading.sights[0].weight, 1.5);
  EXPECT_DOUBLE_EQ(reading.sights[1].weight, -.5);
  EXPECT_EQ(reading.sights[1].place, Vec3(1, 2, 303));
}

}  // namespace
}  // namespace standpoint
