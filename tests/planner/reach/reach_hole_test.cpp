// How a hole is judged: contract section 3, "A hole". Expected values are first principles.

#include <gtest/gtest.h>

#include <cmath>

#include "tests/planner/reach/mark_of.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// A block of 200 x 200 x 60 with a hole in the middle of its top at z = 0.
MadeScene drilled_block(double diameter, double depth) {
  MadeScene scene = bare_scene();
  add_body(scene, "block", drilled({Vec3::Zero(), 100, 60, diameter / 2, depth, 64}),
           BodyRole::part);
  add_feature(scene, "hole", HoleFeature{Vec3::Zero(), kUp, diameter / 2, depth});
  return scene;
}

const Vec3 kAbove(1500, 300, 2200);

TEST(Holes, ASixMillimetreTipCentresInAFiveMillimetreHoleAndTheBallDoesNot) {
  MadeScene scene = drilled_block(5, 12);
  scene.full_targets.push_back(ball_target());
  scene.offset_styli.emplace_back(mirror_stylus());
  const FeatureMark mark = mark_of(scene, kAbove);
  EXPECT_EQ(mark.verdict, Verdict::offset_stylus);
  EXPECT_EQ(mark.way, Way::rim);
  ASSERT_EQ(mark.touches.size(), 1u);
  EXPECT_EQ(mark.touches[0].at, Vec3::Zero());
  EXPECT_EQ(mark.touches[0].normal, kUp);
}

TEST(Holes, WhatDoesNotCentreItselfIsToldAsNoFitWithoutABody) {
  MadeScene scene = drilled_block(5, 12);
  scene.full_targets.push_back(ball_target());
  const FeatureMark mark = mark_of(scene, kAbove);
  EXPECT_EQ(mark.verdict, Verdict::blocked);
  EXPECT_FALSE(mark.margin);
  ASSERT_EQ(mark.touches.size(), 1u);
  ASSERT_EQ(mark.touches[0].causes.size(), 1u);
  EXPECT_EQ(mark.touches[0].causes[0].rule, Rule::no_fit);
  EXPECT_FALSE(mark.touches[0].causes[0].body);
  EXPECT_FALSE(mark.touches[0].causes[0].margin);
  // With a stylus beside it that is blocked for its own reason, each target tells its own.
  scene.offset_styli.emplace_back(mirror_stylus());
  add_body(scene, "roof", box({-500, -500, 300}, {500, 500, 310}));
  const FeatureMark both = mark_of(scene, kAbove);
  ASSERT_EQ(both.touches[0].causes.size(), 2u);
  EXPECT_EQ(both.touches[0].causes[0].rule, Rule::no_fit);
  EXPECT_EQ(both.touches[0].causes[1].rule, Rule::beam);
  EXPECT_EQ(both.touches[0].causes[1].body, BodyId(1));
}

TEST(Holes, ABallLargerThanTheHoleSeatsOnItsRim) {
  MadeScene scene = drilled_block(25, 30);
  scene.full_targets.push_back(ball_target());  // asin(25 / 38.1) = 41 degrees
  const FeatureMark mark = mark_of(scene, kAbove);
  EXPECT_EQ(mark.verdict, Verdict::full_target);
  EXPECT_EQ(mark.way, Way::rim);
  // It fits: the rim, a polygon with its corners on the circle, comes no nearer than allowed.
  EXPECT_TRUE(mark.by_target[0]);
}

TEST(Holes, ASmallerTipTouchesTheWall) {
  MadeScene scene = drilled_block(40, 24);
  MirrorStylus stylus = mirror_stylus();
  stylus.swing_rad = 35 * kDeg;  // to stand upright at the near side of the wall
  scene.offset_styli.emplace_back(stylus);
  const FeatureMark mark = mark_of(scene, kAbove);
  EXPECT_EQ(mark.verdict, Verdict::offset_stylus);
  EXPECT_EQ(mark.way, Way::wall);
  ASSERT_EQ(mark.touches.size(), 7u);
  for (const TouchMark& touch : mark.touches) EXPECT_NEAR(touch.at.z(), -12, 1e-12);
}

TEST(Holes, TheWallIsTouchedShallowerWhereTheShankHasNoRoomDeepDown) {
  // 24 deep and 20 wide, seen from 45 degrees: half-way down the shank meets the rim, 3 down not.
  MadeScene scene = drilled_block(20, 24);
  MirrorStylus stylus = mirror_stylus();
  stylus.swing_rad = 20 * kDeg;
  stylus.head_radius = 5;
  scene.offset_styli.emplace_back(stylus);
  const FeatureMark mark = mark_of(scene, {2000, 0, 2000});
  EXPECT_EQ(mark.verdict, Verdict::offset_stylus);
  EXPECT_EQ(mark.way, Way::wall);
  EXPECT_NEAR(mark.touches[0].at.z(), -3, 1e-12);
}

TEST(Holes, ABallAsLargeAsTheBoreFitsNoWay) {
  MadeScene scene = drilled_block(38.1, 40);
  scene.full_targets.push_back(ball_target());
  EXPECT_EQ(mark_of(scene, kAbove).verdict, Verdict::blocked);
  scene.features[0].shape = CylinderFeature{{0, 0, -20}, kUp, 19.05, 40, true};
  const FeatureMark bore = mark_of(scene, kAbove);
  EXPECT_EQ(bore.verdict, Verdict::blocked);
  EXPECT_EQ(bore.touches.size(), 12u);
  EXPECT_EQ(bore.touches[0].causes.at(0).rule, Rule::no_fit);
}

TEST(Holes, TheSeatAsksTheAcceptanceOfATouch) {
  // The rim's axis is the normal: from below the block's edge the ball's face is turned away.
  MadeScene scene = drilled_block(25, 30);
  scene.bodies.clear();
  scene.meshes.clear();
  scene.instrument.elevation_rad = {-1.6, 1.6};
  scene.full_targets.push_back(ball_target());
  const double above = std::sqrt(19.05 * 19.05 - 12.5 * 12.5);
  for (const auto& [off_deg, is_accepted] : {std::pair{12.001, true}, {11.999, false}}) {
    const Vec3 u(std::sin(off_deg * kDeg), 0, -std::cos(off_deg * kDeg));
    const FeatureMark mark = mark_of(scene, above * kUp + 2000 * u);
    EXPECT_EQ(mark.verdict == Verdict::full_target, is_accepted) << off_deg;
  }
}

}  // namespace
}  // namespace standpoint::test
