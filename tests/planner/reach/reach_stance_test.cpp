// Instruments that do not stand upright: turned with everything else until its standing axis is
// vertical, an instrument sees what it saw. What upright instruments see is tested elsewhere.

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "geometry/trigonometry.h"
#include "planner/model/stand.h"
#include "planner/reach/sight.h"
#include "reach_random_scene.h"
#include "standpoint/sight.h"

namespace standpoint::test {
namespace {

/// The turns of a cube about its own axes: the grid of directions that styli are held in is laid on
/// a cube's faces, so that these turn it into itself.
Eigen::Matrix3d cube_turn(Draw& draw) {
  Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();
  for (int i = 0; i < 4; ++i) {
    Eigen::Matrix3d quarter = Eigen::Matrix3d::Zero();
    const auto axis = static_cast<Eigen::Index>(draw.below(3));
    const Eigen::Index next = (axis + 1) % 3, last = (axis + 2) % 3;
    quarter(axis, axis) = 1;
    quarter(last, next) = 1;
    quarter(next, last) = -1;
    turn = quarter * turn;
  }
  return turn;
}

Pose turned_by(const Eigen::Matrix3d& turn) {
  Pose pose = Pose::Identity();
  pose.linear() = turn;
  return pose;
}

TEST(ReachStance, ElevationIsAboutTheStandingAxis) {
  // By hand: on its side, its head toward +X, a place straight along +X is overhead.
  const Vec3 at(10, 20, 30);
  EXPECT_NEAR(elevation_of({at, Vec3::UnitX()}, at + Vec3(100, 0, 0)), 90 * kDeg, 1e-15);
  EXPECT_NEAR(elevation_of({at, Vec3::UnitX()}, at + Vec3(0, 0, 100)), 0, 1e-15);
  EXPECT_NEAR(elevation_of({at, Vec3::UnitX()}, at + Vec3(-100, 0, 100)), -45 * kDeg, 1e-15);
  EXPECT_NEAR(elevation_of({at, -Vec3::UnitZ()}, at + Vec3(100, 0, 100)), -45 * kDeg, 1e-15);
}

TEST(ReachStance, OfAnUprightInstrumentNothingIsTurnedNotEvenByARounding) {
  Draw draw(11);
  for (int i = 0; i < 2000; ++i) {
    const Vec3 from = draw.in_box(Vec3::Constant(-9e3), Vec3::Constant(9e3));
    const Vec3 to = draw.in_box(Vec3::Constant(-9e3), Vec3::Constant(9e3));
    const Vec3 d = to - from;
    ASSERT_EQ(elevation_of(from, to), arc_tangent(d.z(), hypotenuse(d.x(), d.y())))
        << "seed 11, case " << i;
  }
}

/// A random scene whose features are single points: rings of touches begin anywhere, and so do not
/// turn with the feature.
MadeScene scene_of_points(Draw& draw, const RandomSceneKind& kind) {
  MadeScene scene = random_scene(draw, kind);
  std::erase_if(scene.features, [](const Feature& feature) {
    return !std::holds_alternative<PointFeature>(feature.shape) &&
           !std::holds_alternative<PlaneFeature>(feature.shape);
  });
  const std::vector<PointFeature> points{
      {{185, 120, draw.between(5, 85)}, Vec3::UnitX()},        // on the boss
      {{150, 85, draw.between(5, 85)}, -Vec3::UnitY()},        // and before it
      {{draw.between(-240, 240), -250, -70}, -Vec3::UnitY()},  // on the block's sides
      {{-250, draw.between(-240, 240), -70}, -Vec3::UnitX()},
      {draw.in_box({-240, 60, 0}, {100, 240, 0}), Vec3::UnitZ()},
      {draw.in_box({-200, -200, 100}, {200, 200, 400}), draw.direction()}};  // in the air
  for (std::size_t i = 0; i < points.size(); ++i)
    add_feature(scene, "point-" + std::to_string(i), points[i]);
  return scene;
}

/// A stylus that fails in many directions may tell shank or head, whichever it meets first.
Rule told(Rule rule) {
  return rule == Rule::head ? Rule::shank : rule;
}

/// Of a stylus in several directions alike another may be told, never another verdict.
void expect_alike(const Sight& turned, const Sight& upright, std::uint64_t seed) {
  for (std::size_t f = 0; f < upright.features.size(); ++f) {
    SCOPED_TRACE(testing::Message() << "seed " << seed << ", feature " << f);
    ASSERT_EQ(turned.features[f].verdict, upright.features[f].verdict);
    ASSERT_EQ(turned.features[f].target, upright.features[f].target);
    ASSERT_EQ(turned.features[f].margin.has_value(), upright.features[f].margin.has_value());
    for (std::size_t t = 0; t < upright.features[f].touches.size(); ++t) {
      const TouchMark& there = turned.features[f].touches[t];
      const TouchMark& here = upright.features[f].touches[t];
      ASSERT_EQ(there.verdict, here.verdict) << "touch " << t;
      ASSERT_EQ(there.causes.size(), here.causes.size());
      for (std::size_t c = 0; c < here.causes.size(); ++c)
        ASSERT_EQ(told(there.causes[c].rule), told(here.causes[c].rule))
            << "touch " << t << ", cause " << c;
    }
  }
  for (std::size_t n = 0; n < upright.nests.size(); ++n)
    ASSERT_EQ(turned.nests[n].mark.verdict, upright.nests[n].mark.verdict) << "seed " << seed;
}

// The scene of the oracle has the instrument upright; asked is that scene turned, its instrument
// with it. A cube's turns only swap and negate coordinates: no rounding comes between.
TEST(ReachStance, TurnedWithAllItSeesAnInstrumentSeesTheSame) {
  std::array<int, 3> seen{};
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    Draw draw(seed);
    const MadeScene upright = scene_of_points(draw, {0.25, 6});
    const Vec3 station = random_station(draw);
    const Eigen::Matrix3d turn = cube_turn(draw);
    const MadeScene turned = moved(upright, turned_by(turn));
    const Sight here = look_from(cell_of(upright), station);
    const Sight there =
        look_from(cell_of(turned), {Vec3(turn * station), Vec3(turn * Vec3::UnitZ())});
    ASSERT_NO_FATAL_FAILURE(expect_alike(there, here, seed));
    for (const FeatureMark& mark : here.features) ++seen[static_cast<std::size_t>(mark.verdict)];
  }
  for (const int count : seen) EXPECT_GT(count, 20);
}

// And by any angle: full targets ask nothing of a grid. The elevations are narrow, so that they
// decide often.
TEST(ReachStance, TurnedByAnyAngleAFullTargetIsReachedAlike) {
  int reached = 0, too_steep = 0;
  for (std::uint64_t seed = 500; seed < 800; ++seed) {
    Draw draw(seed);
    MadeScene upright = scene_of_points(draw, {0, 6});
    upright.offset_styli.clear();
    upright.instrument.elevation_rad = {draw.between(-60, -10) * kDeg, draw.between(0, 30) * kDeg};
    const Vec3 station = random_station(draw);
    const Eigen::AngleAxisd turn(draw.between(0.1, 3.1), draw.direction());
    const MadeScene turned = moved(upright, turned_by(turn.toRotationMatrix()));
    const FeatureId feature(draw.below(upright.features.size()));
    const FeatureMark here = judge_feature(cell_of(upright), station, feature);
    const FeatureMark there =
        judge_feature(cell_of(turned), {Vec3(turn * station), Vec3(turn * Vec3::UnitZ())}, feature);
    ASSERT_EQ(there.verdict, here.verdict) << "seed " << seed;
    if (here.margin && std::isfinite(*here.margin)) {
      ASSERT_NEAR(*there.margin, *here.margin, 1e-7) << "seed " << seed;
    }
    reached += here.verdict == Verdict::full_target;
    for (const TouchMark& touch : here.touches)
      for (const Cause& cause : touch.causes) too_steep += cause.rule == Rule::elevation;
  }
  EXPECT_GT(reached, 30);
  EXPECT_GT(too_steep, 30);
}

TEST(ReachStance, TurnedWithAllTheBodyOfTheInstrumentFindsTheSameInItsWay) {
  int cut = 0, free = 0;
  for (std::uint64_t seed = 900; seed < 1100; ++seed) {
    Draw draw(seed);
    MadeScene upright = random_scene(draw, {0, 10});
    upright.instrument.body_radius = draw.between(0, 300);
    const Vec3 station = draw.in_box(Vec3::Constant(-900), Vec3::Constant(900));
    const Eigen::Matrix3d turn = cube_turn(draw);
    const MadeScene turned = moved(upright, turned_by(turn));
    const auto here = body_in_the_way(cell_of(upright), station);
    const auto there =
        body_in_the_way(cell_of(turned), {Vec3(turn * station), Vec3(turn * Vec3::UnitZ())});
    ASSERT_EQ(there, here) << "seed " << seed;
    ++(here ? cut : free);
  }
  EXPECT_GT(cut, 20);
  EXPECT_GT(free, 20);
}

}  // namespace
}  // namespace standpoint::test
