// What holds a part, and what moves where it is not held.

#include "planner/network/motion.h"

#include <cmath>
#include <initializer_list>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "planner/network/alignment.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

AlignmentTouch touch_at(const Vec3& place, const Vec3& normal) {
  return {0, place, {normal}, Mat3::Identity()};
}

TEST(HeldDirections, AreWhatEachKindOfTouchFixes) {
  const Vec3 normal = Vec3(0.6, 0, 0.8);
  Feature hole;
  hole.shape = HoleFeature{Vec3::Zero(), normal, 10, 20};
  for (const Way way : {Way::rim, Way::adapter}) {
    const std::vector<Vec3> held = held_directions(hole, way, normal);
    ASSERT_EQ(held.size(), 2u);
    EXPECT_LT(std::abs(held[0].dot(normal)) + std::abs(held[1].dot(normal)), 1e-12);
    EXPECT_LT(std::abs(held[0].dot(held[1])), 1e-12);
  }
  // Its wall, touched by a ball smaller than it, is a surface.
  EXPECT_EQ(held_directions(hole, Way::wall, normal), std::vector<Vec3>{normal});
  Feature point;
  point.shape = PointFeature{Vec3::Zero(), normal};
  EXPECT_EQ(held_directions(point, Way::surface, normal), std::vector<Vec3>{normal});
  std::get<PointFeature>(point.shape).holds_all = true;
  EXPECT_EQ(held_directions(point, Way::surface, normal).size(), 3u);
}

/// A table of 900 by 600 with two holes that a ball sits on.
test::MadeScene table_with_holes() {
  test::MadeScene scene = test::bare_scene();
  scene.full_targets = {test::ball_target()};
  const PlaneFeature top{{{0, 0, 0}, {900, 0, 0}, {900, 600, 0}, {0, 600, 0}}, Vec3::UnitZ()};
  test::add_feature(scene, "top", top);
  test::add_feature(scene, "pin-a", HoleFeature{{100, 100, 0}, Vec3::UnitZ(), 12, 30});
  test::add_feature(scene, "pin-b", HoleFeature{{800, 150, 0}, Vec3::UnitZ(), 12, 30});
  test::add_feature(scene, "beside", PointFeature{{450, 600, -40}, Vec3::UnitY()});
  return scene;
}

TEST(NominalAlignment, APlaneAndTwoHolesHoldAPartAndWhatIsMissingIsNamed) {
  const test::MadeScene scene = table_with_holes();
  const auto ids = [](std::initializer_list<std::size_t> numbers) {
    std::vector<FeatureId> all;
    for (const std::size_t number : numbers) all.emplace_back(number);
    return all;
  };
  EXPECT_TRUE(free_motions(nominal_alignment(scene, ids({0, 1, 2}))).empty());
  const std::vector<FeatureId> pinned = ids({0, 1});
  const auto free = free_motions(nominal_alignment(scene, pinned));
  ASSERT_EQ(free.size(), 1u);
  EXPECT_TRUE(free[0].turns);
  EXPECT_LT((free[0].through - Vec3(100, 100, 0)).head<2>().norm(), 1e-6);
  // Along what they hold the far hole moves 702 mm a rad, the point beside 350.
  const std::vector<Hold> holds = features_that_hold(scene, free[0], pinned, 5);
  ASSERT_EQ(holds.size(), 2u);
  EXPECT_EQ(holds[0].feature, FeatureId(2));
  EXPECT_EQ(holds[1].feature, FeatureId(3));
  EXPECT_GT(holds[0].share, holds[1].share);
}

/// Words for a test: "shift x" or "turn z 120 40 0".
std::string told(const Motion& motion) {
  std::string words = motion.turns ? "turn" : "shift";
  for (int axis = 0; axis < 3; ++axis)
    if (std::abs(motion.direction[axis]) > 1 - 1e-9) words += " " + std::string(1, "xyz"[axis]);
  // Of the line's points that beside the origin: which of them is told does not matter.
  if (motion.turns)
    for (const double x :
         Vec3(motion.through - motion.direction.dot(motion.through) * motion.direction))
      words += " " + std::to_string(std::lround(x));
  return words;
}

std::vector<std::string> free_of(const std::vector<AlignmentTouch>& touches) {
  std::vector<std::string> words;
  for (const Motion& motion : free_motions(touches)) words.push_back(told(motion));
  return words;
}

TEST(FreeMotions, AreThoseThatNoTouchResists) {
  using Words = std::vector<std::string>;
  std::vector<AlignmentTouch> table{touch_at({0, 0, 50}, Vec3::UnitZ()),
                                    touch_at({900, 0, 50}, Vec3::UnitZ()),
                                    touch_at({0, 600, 50}, Vec3::UnitZ())};
  EXPECT_EQ(free_of(table), (Words{"shift x", "shift y", "turn z 300 200 0"}));
  // A pin in a hole: only turning about it is left.
  std::vector<AlignmentTouch> pinned = table;
  pinned.push_back({0, {120, 40, 0}, {Vec3::UnitX(), Vec3::UnitY()}, Mat3::Identity()});
  const auto left = free_motions(pinned);
  ASSERT_EQ(left.size(), 1u);
  EXPECT_TRUE(left[0].turns);
  EXPECT_LT((left[0].direction - Vec3::UnitZ()).norm(), 1e-9);
  EXPECT_LT((left[0].through - Vec3(120, 40, 0)).head<2>().norm(), 1e-6);
  pinned.push_back(touch_at({800, 20, 0}, Vec3::UnitY()));
  EXPECT_EQ(free_of(pinned), Words());
  // A round bar along x: it slides and rolls.
  std::vector<AlignmentTouch> bar;
  for (const double x : {-400.0, 400.0})
    for (int k = 0; k < 4; ++k) {
      const Vec3 normal(0, std::cos(0.4 + k * M_PI / 2), std::sin(0.4 + k * M_PI / 2));
      bar.push_back(touch_at(Vec3(x, 70, 300) + 50 * normal, normal));
    }
  EXPECT_EQ(free_of(bar), (Words{"shift x", "turn x 0 70 300"}));
  // A ball: three turns about its centre, none of them told as a shift.
  std::vector<AlignmentTouch> ball;
  test::Draw draw(5);
  for (int k = 0; k < 8; ++k) {
    const Vec3 normal = draw.direction();
    ball.push_back(touch_at(Vec3(10, 20, 30) + 25 * normal, normal));
  }
  EXPECT_EQ(free_of(ball), (Words{"turn x 0 20 30", "turn y 10 0 30", "turn z 10 20 0"}));
  EXPECT_EQ(free_of({}).size(), 6u);
}

TEST(FreeMotions, NoTouchMovesAlongWhatItHolds) {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    std::vector<AlignmentTouch> touches;
    const auto count = static_cast<int>(seed % 8);
    for (int i = 0; i < count; ++i)
      touches.push_back(touch_at(draw.in_box({-500, -400, 0}, {700, 300, 900}), draw.direction()));
    const std::vector<Motion> free = free_motions(touches);
    EXPECT_EQ(static_cast<int>(free.size()), std::max(0, 6 - count));
    for (const Motion& motion : free)
      for (const AlignmentTouch& touch : touches)
        EXPECT_LT(std::abs(touch.held[0].dot(shift_at(motion, touch.place))),
                  1e-6 * std::max(1.0, std::abs(motion.rise) + 1000));
  }
}

}  // namespace
}  // namespace standpoint
