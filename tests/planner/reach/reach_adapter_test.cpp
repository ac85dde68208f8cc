// Hole adapters (contract section 9): a pin in a hole that carries a full target.

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "planner/reach/feature_reach.h"
#include "planner/reach/sight.h"
#include "reach_probe.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

const Vec3 kStation(0, -2000, 900);

HoleAdapter pin_10() {
  return {"pin-10", {9.95, 10.05}, TargetId(0), 30, 16, 45 * kDeg};
}

/// A block with a hole of 10 mm in the middle of its top, at the origin; a ball and a pin.
MadeScene block_with_hole() {
  MadeScene scene = bare_scene();
  scene.full_targets.push_back(ball_target());
  scene.hole_adapters.push_back(pin_10());
  add_body(scene, "block", drilled({Vec3::Zero(), 200, 150, 5, 40, 64}), BodyRole::part);
  add_feature(scene, "dowel", HoleFeature{Vec3::Zero(), Vec3::UnitZ(), 5, 40});
  return scene;
}

FeatureMark mark_in(const MadeScene& scene, FeatureId feature = FeatureId(0)) {
  const Cell cell = cell_of(scene);
  FeatureMark mark = judge_feature(cell, kStation, feature);
  EXPECT_EQ(FeatureReach(cell, feature).verdict(kStation), mark.verdict);
  return mark;
}

std::optional<Cause> cause_of(const FeatureMark& mark, TargetId target) {
  for (const Cause& cause : mark.touches.at(0).causes)
    if (cause.target == target) return cause;
  return std::nullopt;
}

TEST(HoleAdapter, CarriesItsBallOverTheHoleAndIsAFullTargetByItsOwnName) {
  const MadeScene scene = block_with_hole();
  const FeatureMark mark = mark_in(scene);
  EXPECT_EQ(mark.verdict, Verdict::full_target);
  ASSERT_EQ(mark.target, TargetId(1));
  EXPECT_EQ(target_name(scene, *mark.target), "pin-10");
  EXPECT_EQ(mark.way, Way::adapter);
  ASSERT_EQ(mark.touches.size(), 1U);
  EXPECT_EQ(mark.touches[0].at, Vec3(0, 0, 0));
  EXPECT_EQ(mark.touches[0].optical_centre, Vec3(0, 0, 30));
}

TEST(HoleAdapter, TakesOnlyHolesOfItsDiameters) {
  for (const double diameter : {9.95, 10.05}) {
    MadeScene scene = block_with_hole();
    std::get<HoleFeature>(scene.features[0].shape).radius = diameter / 2;
    EXPECT_EQ(mark_in(scene).verdict, Verdict::full_target) << diameter;
  }
  for (const double diameter : {9.9499, 10.0501}) {
    MadeScene scene = block_with_hole();
    std::get<HoleFeature>(scene.features[0].shape).radius = diameter / 2;
    const FeatureMark mark = mark_in(scene);
    EXPECT_EQ(mark.verdict, Verdict::blocked) << diameter;
    const auto cause = cause_of(mark, TargetId(1));
    ASSERT_TRUE(cause.has_value());
    EXPECT_EQ(cause->rule, Rule::no_fit);
    EXPECT_FALSE(cause->body.has_value());
    EXPECT_EQ(cause->optical_centre, Vec3(0, 0, 30));
  }
}

// The base is 32 across and ends 30 - 19.05 = 10.95 over the rim; fit_tolerance is 0.2.
TEST(HoleAdapter, NothingStandsDeeperInItsBaseThanTheToleranceAndTheBodyIsNamed) {
  struct Block {
    Vec3 low, high;
    bool is_free;
  };
  // All of them are clear of the ball.
  for (const Block& block : {Block{{10, -2, 0}, {14, 2, 5}, false},       // in it
                             Block{{15.85, -2, 0}, {40, 2, 8}, true},     // 0.15 into its side
                             Block{{15.75, -2, 0}, {40, 2, 8}, false},    // 0.25
                             Block{{12, -2, 10.8}, {15, 2, 13}, true},    // 0.15 into its top
                             Block{{12, -2, 10.7}, {15, 2, 13}, false}})  // 0.25
  {
    MadeScene scene = block_with_hole();
    add_body(scene, "bracket", box(block.low, block.high));
    const FeatureMark mark = mark_in(scene);
    EXPECT_EQ(mark.verdict, block.is_free ? Verdict::full_target : Verdict::blocked)
        << block.low.transpose();
    if (block.is_free) continue;
    const auto cause = cause_of(mark, TargetId(1));
    ASSERT_TRUE(cause.has_value());
    EXPECT_EQ(cause->rule, Rule::no_fit);
    EXPECT_EQ(cause->body, BodyId(1));
    EXPECT_LT(*cause->margin, -0.2);
  }
}

TEST(HoleAdapter, ItsSeatAndNoTouchSaysHowFarTheBallIsRolled) {
  // By hand: u must be 42 + 45 - 30 = 57 degrees off the pin at least; from straight below the
  // rim's plane it would be seen at 180 - 90 - e.
  MadeScene scene = bare_scene();
  scene.full_targets.push_back(ball_target());
  scene.hole_adapters.push_back(pin_10());
  scene.instrument.elevation_rad = {-1.6, 1.6};
  add_feature(scene, "dowel", HoleFeature{Vec3::Zero(), Vec3::UnitZ(), 5, 40});
  const auto seen_at = [&](double below_deg) {
    const Vec3 from(0, -2000 * std::cos(below_deg * kDeg), 30 - 2000 * std::sin(below_deg * kDeg));
    return judge_feature(cell_of(scene), from, FeatureId(0)).verdict;
  };
  EXPECT_EQ(seen_at(32.9), Verdict::full_target);
  EXPECT_EQ(seen_at(33.1), Verdict::blocked);
}

TEST(HoleAdapter, IsTriedOnHolesAloneUnlessAFeatureNamesIt) {
  MadeScene scene = block_with_hole();
  add_feature(scene, "pad", PointFeature{{100, 0, -80}, Vec3::UnitZ()});  // in the block: blocked
  add_nest(scene, "N1", {0, 0, 300});
  const FeatureMark plain = mark_in(scene, FeatureId(1));
  EXPECT_EQ(plain.verdict, Verdict::blocked);
  EXPECT_FALSE(cause_of(plain, TargetId(1)).has_value());
  scene.features[1].targets = {TargetId(0), TargetId(1)};
  const FeatureMark named = mark_in(scene, FeatureId(1));
  ASSERT_TRUE(cause_of(named, TargetId(1)).has_value());
  EXPECT_EQ(cause_of(named, TargetId(1))->rule, Rule::no_fit);
  const NestMark nest = judge_nest(cell_of(scene), kStation, NestId(0));
  ASSERT_TRUE(nest.mark.best.has_value());
  EXPECT_EQ(nest.mark.best->target, TargetId(0));
}

/// Whether a place of the triangle stands deeper in the upright cylinder about the z axis, from
/// z = 0 to `height`, than `depth`: by cutting the triangle up until every piece is surely less
/// deep or some place is deeper. Nothing where it is too near to tell. Oracle only.
std::optional<bool> is_deeper(const std::array<Vec3, 3>& t, double radius, double height,
                              double depth) {
  const Vec3 middle = (t[0] + t[1] + t[2]) / 3;
  const double here =
      std::min({radius - std::hypot(middle.x(), middle.y()), middle.z(), height - middle.z()});
  if (here > depth) return true;
  // Heights are greatest at a corner; the distance from the axis changes no more than the place.
  double reach = 0;
  for (const Vec3& corner : t) reach = std::max(reach, (corner - middle).norm());
  const auto [low, high] = std::minmax({t[0].z(), t[1].z(), t[2].z()});
  if (high < depth || height - low < depth) return false;
  if (radius - std::hypot(middle.x(), middle.y()) + reach < depth) return false;
  if (reach < 0.01) return std::nullopt;
  const Vec3 ab = (t[0] + t[1]) / 2, bc = (t[1] + t[2]) / 2, ca = (t[2] + t[0]) / 2;
  std::optional<bool> answer = false;
  for (const std::array<Vec3, 3>& part :
       {std::array{t[0], ab, ca}, {t[1], bc, ab}, {t[2], ca, bc}, {ab, bc, ca}}) {
    const auto of_part = is_deeper(part, radius, height, depth);
    if (of_part == true) return true;
    if (!of_part) answer.reset();
  }
  return answer;
}

// The base against all triangles one by one, before the scene is turned; the ball on its seat as a
// full target, which is tested elsewhere.
TEST(HoleAdapter, ReachesWhereItsRulesHoldOneByOne) {
  int reached = 0, too_wide = 0, base_cut = 0, ball_cut = 0;
  for (std::uint64_t seed = 1; seed <= 500; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Draw draw(seed);
    MadeScene scene = bare_scene();
    scene.instrument.elevation_rad = {-1.6, 1.6};
    scene.full_targets = {ball_target(), ball_target("ball-12", 12.7)};
    scene.rules.fit_tolerance = draw.between(0.05, 0.5);
    const double hole = draw.between(2, 12);
    const HoleAdapter adapter{"pin",
                              {1.6 * hole, draw.between(1.8, 3) * hole},
                              TargetId(draw.below(2)),
                              draw.between(5, 60),
                              draw.between(2, 30),
                              draw.between(0, 60) * kDeg};
    scene.hole_adapters = {adapter};
    add_body(scene, "block", drilled({Vec3::Zero(), 60, 100, hole, 30, 32}), BodyRole::part);
    const std::size_t clutter = draw.below(4);
    for (std::size_t i = 0; i < clutter; ++i) {
      const Vec3 at = draw.in_box({-45, -45, 0}, {45, 45, 70});
      add_body(scene, "clutter", box(at, at + draw.in_box(Vec3::Constant(1), Vec3::Constant(25))));
    }
    const FeatureId feature =
        add_feature(scene, "hole", HoleFeature{Vec3::Zero(), Vec3::UnitZ(), hole, 30});
    scene.features[0].targets = {TargetId(2)};
    const Vec3 station = random_station(draw);

    const double radius = full_target(scene, TargetId(2)).radius;
    const double top = adapter.height - radius;
    std::optional<bool> is_cut = false;
    for (const auto& mesh : scene.meshes) {
      for (std::size_t t = 0; t < mesh->triangles.size() && top > 0; ++t) {
        const auto deeper =
            is_deeper(mesh->corners(t), adapter.base_radius, top, scene.rules.fit_tolerance);
        if (deeper == true) is_cut = true;
        if (!deeper && is_cut == false) is_cut.reset();
      }
    }
    if (!is_cut) continue;
    const bool fits_hole = adapter.hole_diameter.contains(2 * hole);
    const Outcome ball =
        look_at(scene, adapter.ball.index,
                {Vec3(0, 0, adapter.height), Vec3::UnitZ(), adapter.seat_rad, false}, station);
    const bool expected = fits_hole && !*is_cut && test::reached(ball) != nullptr;

    Pose pose = Pose::Identity();
    pose.linear() = Eigen::AngleAxisd(draw.between(0, 3), draw.direction()).toRotationMatrix();
    pose.translation() = draw.in_box(Vec3::Constant(-900), Vec3::Constant(900));
    const Cell cell = cell_of(moved(scene, pose));
    const FeatureMark mark = judge_feature(cell, pose * station, feature);
    ASSERT_EQ(mark.verdict == Verdict::full_target, expected);
    ASSERT_EQ(FeatureReach(cell, feature).verdict(pose * station), mark.verdict);
    reached += expected;
    too_wide += !fits_hole;
    base_cut += fits_hole && *is_cut;
    ball_cut += fits_hole && !*is_cut && rule(ball) == Rule::no_fit;
  }
  EXPECT_GT(reached, 40);
  EXPECT_GT(too_wide, 30);
  EXPECT_GT(base_cut, 20);
  EXPECT_GT(ball_cut, 10);
}

}  // namespace
}  // namespace standpoint::test
