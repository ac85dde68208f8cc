// How a feature and a nest are judged: contract section 3, "A touch is judged", "A feature is
// judged", "A nest with an offset stylus". Expected values are first principles.

#include <gtest/gtest.h>

#include "planner/reach/nearness.h"
#include "planner/reach/nest_reach.h"
#include "planner/reach/sight.h"
#include "tests/planner/reach/mark_of.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

NestMark nest_mark_of(const MadeScene& scene, const Vec3& station) {
  const Cell cell = cell_of(scene);
  NestMark mark = judge_nest(cell, station, NestId(0));
  EXPECT_EQ(NestReach(cell, scene.nests[0]).verdict(station), mark.mark.verdict);
  return mark;
}

/// Low posts that hide single touches from a station on +x: each `post_before(touch)` stands 300
/// before it and is 60 wide.
Mesh post_before(const Vec3& touch, const Vec3& station) {
  const Vec3 at = touch + 300 * (station - touch).normalized();
  return box(at - Vec3(30, 30, 400), at + Vec3(30, 30, 400));
}

/// A 2 m square plane at z = 0 in free space, with its four corners to be touched, and full targets
/// and styli as asked for.
MadeScene square(int full_targets, int mirrors) {
  MadeScene scene = bare_scene();
  add_feature(
      scene, "top",
      PlaneFeature{{{-1000, -1000, 0}, {1000, -1000, 0}, {1000, 1000, 0}, {-1000, 1000, 0}}, kUp});
  for (int i = 0; i < full_targets; ++i) {
    scene.full_targets.push_back(ball_target("ball-" + std::to_string(i), 38.1 - 10 * i));
  }
  for (int i = 0; i < mirrors; ++i) {
    MirrorStylus stylus = mirror_stylus("mirror-" + std::to_string(i));
    stylus.length += 100 * i;
    scene.offset_styli.emplace_back(stylus);
  }
  return scene;
}

const Vec3 kStation(6000, 200, 800);

void hide(MadeScene& scene, std::size_t touch) {
  const auto& plane = std::get<PlaneFeature>(scene.features[0].shape);
  add_body(scene, "post before " + std::to_string(touch),
           post_before(plane.points[touch], kStation));
}

TEST(FeatureMarks, ThreeOfFourCornersAreEnoughByDefaultAndTwoAreNot) {
  MadeScene scene = square(1, 0);
  hide(scene, 2);
  const FeatureMark three = mark_of(scene, kStation);
  EXPECT_EQ(three.verdict, Verdict::full_target);
  EXPECT_EQ(three.target, TargetId(0));
  EXPECT_EQ(three.touches[2].verdict, Verdict::blocked);
  ASSERT_EQ(three.touches[2].causes.size(), 1u);
  EXPECT_EQ(three.touches[2].causes[0].rule, Rule::beam);
  EXPECT_EQ(three.touches[2].causes[0].body, BodyId(0));
  EXPECT_FALSE(three.by_target[2]);
  hide(scene, 1);
  const FeatureMark two = mark_of(scene, kStation);
  EXPECT_EQ(two.verdict, Verdict::blocked);
  EXPECT_FALSE(two.target);
}

TEST(FeatureMarks, AtLeastOverridesTheDefault) {
  MadeScene scene = square(1, 0);
  hide(scene, 2);
  scene.features[0].enough_touches = 4;
  EXPECT_EQ(mark_of(scene, kStation).verdict, Verdict::blocked);
  hide(scene, 1);
  scene.features[0].enough_touches = 2;
  EXPECT_EQ(mark_of(scene, kStation).verdict, Verdict::full_target);
}

TEST(FeatureMarks, MarginIsTheSmallestOfTheTouchesThatTheTargetReaches) {
  MadeScene scene = square(1, 0);
  hide(scene, 2);
  // Beside the beam to corner 1 by some 20.
  const Vec3 corner = std::get<PlaneFeature>(scene.features[0].shape).points[1];
  const Vec3 middle = (corner + kStation) / 2;
  add_body(scene, "beside", box(middle + Vec3(-5, 20, -300), middle + Vec3(5, 40, 300)));
  const FeatureMark mark = mark_of(scene, kStation);
  double least = 1e9;
  for (std::size_t i = 0; i < 4; ++i) {
    if (mark.by_target[i]) least = std::min(least, mark.by_target[i]->margin);
  }
  ASSERT_TRUE(mark.margin);
  EXPECT_EQ(*mark.margin, least);
  EXPECT_EQ(*mark.margin, mark.by_target[1]->margin);
  EXPECT_GT(*mark.margin, 5);
  EXPECT_LT(*mark.margin, 20);
  // The blocked touch's margin is its broken beam's, and does not count.
  EXPECT_LT(*mark.touches[2].margin, 0);
}

TEST(FeatureMarks, ABlockedFeaturesMarginIsThatOfTheTouchNearestToPassing) {
  MadeScene scene = square(1, 0);
  hide(scene, 1);
  // Into the beam to corner 2 by its rim alone.
  const Vec3 corner = std::get<PlaneFeature>(scene.features[0].shape).points[2];
  const Vec3 middle = (corner + kStation) / 2;
  add_body(scene, "beside", box(middle + Vec3(-5, 2, -300), middle + Vec3(5, 40, 300)));
  const FeatureMark mark = mark_of(scene, kStation);
  ASSERT_EQ(mark.verdict, Verdict::blocked);
  ASSERT_TRUE(mark.touches[1].margin && mark.touches[2].margin);
  EXPECT_LT(*mark.touches[1].margin, *mark.touches[2].margin);
  ASSERT_TRUE(mark.margin);
  EXPECT_EQ(*mark.margin, *mark.touches[2].margin);
}

TEST(Nearness, MostTouchesThenTheLargerMarginThenTheFirst) {
  const Nearness none{2, std::nullopt}, deep{2, -50}, rim{2, -1}, more{3, -90};
  EXPECT_TRUE(is_nearer(more, rim));
  EXPECT_TRUE(is_nearer(rim, deep));
  EXPECT_TRUE(is_nearer(deep, none));
  EXPECT_FALSE(is_nearer(none, none));
  EXPECT_FALSE(is_nearer(rim, rim));
  EXPECT_EQ(nearest_of({none, deep, rim, rim}), 2u);
  EXPECT_EQ(nearest_of({rim, more, deep}), 1u);
  EXPECT_EQ(nearest_of({}), std::nullopt);
}

TEST(FeatureMarks, TheOpticalCentreOfABallOnARimIsNoRadiusAboveTheHole) {
  MadeScene scene = bare_scene();
  scene.full_targets.push_back(ball_target("ball", 38.1));
  add_feature(scene, "hole", HoleFeature{{100, 200, 50}, kUp, 18, 40});
  const FeatureMark mark = mark_of(scene, kStation);
  ASSERT_EQ(mark.way, Way::rim);
  ASSERT_EQ(mark.touches.size(), 1u);
  // First principles: sqrt(19.05^2 - 18^2) = 6.23719.
  EXPECT_NEAR((mark.touches[0].optical_centre - Vec3(100, 200, 56.23719)).norm(), 0, 1e-4);
  ASSERT_TRUE(mark.by_target[0]);
  EXPECT_EQ(mark.by_target[0]->optical_centre, mark.touches[0].optical_centre);
  // The same where it is blocked: of the mark and of the cause.
  const Vec3 centre = mark.touches[0].optical_centre;
  add_body(scene, "post", post_before(centre, kStation));
  const FeatureMark blocked = mark_of(scene, kStation);
  ASSERT_EQ(blocked.verdict, Verdict::blocked);
  EXPECT_EQ(blocked.touches[0].optical_centre, centre);
  ASSERT_FALSE(blocked.touches[0].causes.empty());
  EXPECT_EQ(blocked.touches[0].causes[0].optical_centre, centre);
}

TEST(FeatureMarks, AFullTargetGoesBeforeAStylusWhateverTheirMargins) {
  MadeScene scene = square(1, 1);
  // A floor: the ball stands 38 over it where the beam enters, the mirror's beam ends 100 off.
  add_body(scene, "floor", box({-1500, -1500, -50}, {1500, 1500, 0}), BodyRole::part);
  const FeatureMark mark = mark_of(scene, kStation);
  EXPECT_EQ(mark.verdict, Verdict::full_target);
  EXPECT_EQ(mark.target, TargetId(0));
  for (const TouchMark& touch : mark.touches) EXPECT_EQ(touch.best->target, TargetId(0));
}

TEST(FeatureMarks, AStylusServesWhereTheBallDoesNotFit) {
  MadeScene scene = square(1, 1);
  add_body(scene, "floor", box({-1500, -1500, -50}, {1500, 1500, 0}), BodyRole::part);
  // Walls 10 from corners 0 and 1: a ball of radius 19.05 does not fit, a tip of 3 does.
  add_body(scene, "fence", wall({-1100, -1010.5}, {1100, -1010.5}, 0, 60, 1));
  const FeatureMark mark = mark_of(scene, kStation);
  EXPECT_EQ(mark.verdict, Verdict::offset_stylus);
  EXPECT_EQ(mark.target, TargetId(1));
  // The touches are marked each on its own: the far two by ball.
  EXPECT_EQ(mark.touches[0].verdict, Verdict::offset_stylus);
  EXPECT_EQ(mark.touches[3].verdict, Verdict::full_target);
  for (const auto& how : mark.by_target) {
    ASSERT_TRUE(how);
    EXPECT_EQ(how->target, TargetId(1));
    EXPECT_TRUE(how->shank_direction);
  }
}

TEST(FeatureMarks, OneTargetMustTakeEnoughByItself) {
  // A fence 16 from corners 0 and 1: the larger ball (19.05) does not fit there, the smaller
  // (14.05) does. Sills before corners 2 and 3 that the beam to the smaller ball does not clear.
  MadeScene scene = square(2, 0);
  add_body(scene, "fence", wall({-1100, -1016.5}, {1100, -1016.5}, 5, 60, 1));
  const Vec3 low(kStation.x(), kStation.y(), 17);
  for (const double x : {-1000.0, 1000.0}) {
    const Vec3 at =
        Vec3(x, 1000, 0) + 60 * (Vec3(low.x(), low.y(), 0) - Vec3(x, 1000, 0)).normalized();
    add_body(scene, "sill", box(at - Vec3(3, 100, 40), at + Vec3(3, 100, 14)));
  }
  scene.features[0].enough_touches = 3;
  const FeatureMark mark = mark_of(scene, low);
  std::vector<std::size_t> best;
  for (const TouchMark& touch : mark.touches) {
    ASSERT_TRUE(touch.best) << "each touch is reached by one of the two";
    best.push_back(touch.best->target.index);
  }
  EXPECT_EQ(best, (std::vector<std::size_t>{1, 1, 0, 0}));
  EXPECT_EQ(mark.verdict, Verdict::blocked);
  scene.features[0].enough_touches = 2;
  EXPECT_EQ(mark_of(scene, low).verdict, Verdict::full_target);
}

TEST(FeatureMarks, OfTwoFullTargetsTheOneWithTheLargerMarginIsTaken) {
  MadeScene scene = square(2, 0);
  add_body(scene, "floor", box({-1500, -1500, -50}, {1500, 1500, 0}), BodyRole::part);
  // The larger ball's beam ends higher over the floor.
  EXPECT_EQ(mark_of(scene, kStation).target, TargetId(0));
  std::swap(scene.full_targets[0], scene.full_targets[1]);
  EXPECT_EQ(mark_of(scene, kStation).target, TargetId(1));
}

TEST(FeatureMarks, OfTwoStyliTheOneWithTheLargerMarginIsTaken) {
  // The longer mirror's beam ends farther from the floor. Both reach; the first must not hide the
  // second.
  MadeScene scene = square(0, 2);
  add_body(scene, "floor", box({-1500, -1500, -50}, {1500, 1500, 0}), BodyRole::part);
  const Vec3 steep(3000, 200, 3500);
  const FeatureMark mark = mark_of(scene, steep);
  EXPECT_EQ(mark.verdict, Verdict::offset_stylus);
  EXPECT_EQ(mark.target, TargetId(1));
  for (const TouchMark& touch : mark.touches) EXPECT_EQ(touch.best->target, TargetId(1));
}

TEST(NestMarks, OfTwoStyliTheOneWithTheLargerMarginIsTaken) {
  MadeScene scene = square(0, 2);
  add_body(scene, "floor", box({-1500, -1500, -50}, {1500, 1500, 0}), BodyRole::part);
  add_nest(scene, "N1", {0, 0, 20});
  EXPECT_EQ(nest_mark_of(scene, {3000, 200, 3500}).mark.best->target, TargetId(1));
}

TEST(NestMarks, FullTargetThenStylusThenBlocked) {
  MadeScene scene = square(1, 1);
  add_nest(scene, "N1", {0, 0, 20});
  const NestMark open = nest_mark_of(scene, kStation);
  EXPECT_EQ(open.mark.verdict, Verdict::full_target);
  EXPECT_TRUE(open.mark.causes.empty());
  // Seat and aperture leave the ball's face no nearer than 57 degrees to the seat: from below it
  // is lost, and a stylus takes the nest.
  const NestMark below = nest_mark_of(scene, {1000, 0, -1500});
  EXPECT_EQ(below.mark.verdict, Verdict::offset_stylus);
  EXPECT_EQ(below.mark.best->target, TargetId(1));
  EXPECT_TRUE(below.mark.causes.empty()) << "reached: no causes";
  add_body(scene, "shelf", box({-500, -500, -400}, {1500, 500, -300}));
  const NestMark blocked = nest_mark_of(scene, {1000, 0, -1500});
  EXPECT_EQ(blocked.mark.verdict, Verdict::blocked);
  ASSERT_EQ(blocked.mark.causes.size(), 2u);
  EXPECT_EQ(blocked.mark.causes[0].rule, Rule::acceptance);
  EXPECT_EQ(blocked.mark.causes[1].rule, Rule::beam);
  EXPECT_EQ(blocked.mark.causes[1].body, BodyId(0));
}

TEST(FeatureMarks, OnlyTheListedTargetsAreTried) {
  MadeScene scene = square(2, 1);
  scene.features[0].targets = {TargetId(2), TargetId(1)};
  const FeatureMark mark = mark_of(scene, kStation);
  EXPECT_EQ(mark.verdict, Verdict::full_target);
  EXPECT_EQ(mark.target, TargetId(1)) << "full targets first, in whatever order they are listed";
  scene.features[0].targets = {TargetId(2)};
  EXPECT_EQ(mark_of(scene, kStation).verdict, Verdict::offset_stylus);
  for (std::size_t touch = 0; touch < 4; ++touch) hide(scene, touch);
  scene.features[0].targets = {TargetId(1), TargetId(2)};
  for (const TouchMark& touch : mark_of(scene, kStation).touches) {
    ASSERT_EQ(touch.causes.size(), 2u) << "one for each target tried";
    EXPECT_EQ(touch.causes[0].target, TargetId(1));
    EXPECT_EQ(touch.causes[1].target, TargetId(2));
  }
}

TEST(FeatureMarks, WhetherItIsRequiredChangesNoVerdict) {
  MadeScene scene = square(1, 0);
  scene.features[0].required = false;
  EXPECT_EQ(mark_of(scene, kStation).verdict, Verdict::full_target);
}

TEST(FeatureMarks, MarginIsNothingWhereNoBeamWasTried) {
  MadeScene scene = square(1, 0);
  const FeatureMark mark = mark_of(scene, {90000, 0, 0});
  EXPECT_EQ(mark.verdict, Verdict::blocked);
  EXPECT_FALSE(mark.margin);
  for (const TouchMark& touch : mark.touches) {
    EXPECT_FALSE(touch.margin);
    EXPECT_EQ(touch.causes.at(0).rule, Rule::out_of_range);
  }
}

}  // namespace
}  // namespace standpoint::test
