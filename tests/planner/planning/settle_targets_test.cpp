// Which of several targets that take a feature equally well a plan takes.

#include "planner/planning/settle_targets.h"

#include <string>

#include <gtest/gtest.h>

#include "standpoint/plan.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// Pads in a row in free air, two balls of one size: every margin is the same.
MadeScene row_of_pads(int count) {
  MadeScene scene = bare_scene();
  scene.full_targets = {ball_target("ball-a"), ball_target("ball-b")};
  for (int i = 0; i < count; ++i)
    add_feature(scene, "pad-" + std::to_string(i),
                PointFeature{{300.0 * i, 0, 500}, Vec3::UnitZ()});
  scene.fixed_stations = {{"P", {500, -4000, 1500}}};
  return scene;
}

std::vector<std::string> targets_of(const MadeScene& scene) {
  const auto plan = make_plan(cell_of(scene));
  std::vector<std::string> names;
  for (const PlannedFeature& feature : plan->features)
    names.push_back(feature.target ? target_name(scene, *feature.target) : "none");
  return names;
}

TEST(SettledTargets, AreThatWhichItsNeighboursMustUse) {
  MadeScene scene = row_of_pads(5);
  scene.features[1].targets = {TargetId(1)};
  scene.features[3].targets = {TargetId(1)};
  EXPECT_EQ(targets_of(scene), std::vector<std::string>(5, "ball-b"));
}

TEST(SettledTargets, AreThatOfTheNearestNotThatOfMost) {
  MadeScene scene = row_of_pads(21);
  for (int i = 0; i < 8; ++i) scene.features[i].targets = {TargetId(1)};
  for (int i = 9; i < 21; ++i) scene.features[i].targets = {TargetId(0)};
  // In doubt, and among the eight that must use the other ball; most of the row must use the first.
  std::swap(scene.features[8].shape, scene.features[4].shape);
  EXPECT_EQ(targets_of(scene)[8], "ball-b");
}

TEST(SettledTargets, AreTheFirstByNameWhereNothingElseDecides) {
  MadeScene scene = row_of_pads(4);
  EXPECT_EQ(targets_of(scene), std::vector<std::string>(4, "ball-a"));
  std::swap(scene.full_targets[0], scene.full_targets[1]);
  EXPECT_EQ(targets_of(scene), std::vector<std::string>(4, "ball-a"));
}

TEST(SettledTargets, LeaveABetterMarginAlone) {
  MadeScene scene = row_of_pads(3);
  scene.full_targets[1] = ball_target("ball-b", 20);  // lower, so farther from the bar
  scene.full_targets[0].name = "ball-c";
  add_body(scene, "bar", bar({-500, -300, 800}, {1000, -300, 800}, 40));
  scene.features[1].targets = {TargetId(0)};
  scene.features[2].targets = {TargetId(0)};
  EXPECT_EQ(targets_of(scene), (std::vector<std::string>{"ball-b", "ball-c", "ball-c"}));
}

}  // namespace
}  // namespace standpoint::test
