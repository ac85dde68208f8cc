// Nests read at the start and again at the end.

#include "planner/setup/movement.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/planner/setup/part_job.h"

namespace standpoint::test {
namespace {

std::vector<SeenNest> nests_from(const Scene& scene, const Pose& world_from_instrument,
                                 Draw& draw) {
  std::vector<SeenNest> seen;
  for (std::size_t i = 0; i < scene.nests.size(); ++i) {
    const Vec3 at = world_from_instrument.inverse() * scene.nests[i].at;
    seen.push_back({NestId(i), at + drawn_error(draw, scene.instrument.error, at)});
  }
  return seen;
}

/// A small motion of the instrument.
Pose nudged(const Pose& pose, const Vec3& shift, double turn_rad) {
  Pose moved = pose;
  moved.linear() = Eigen::AngleAxisd(turn_rad, Vec3::UnitZ()).toRotationMatrix() * pose.linear();
  moved.translation() += shift;
  return moved;
}

TEST(Movement, WhereNothingMovedItIsSeldomToldThatSomethingDid) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 31;
  SCOPED_TRACE("seed 31");
  Draw draw(kSeed);
  constexpr int kTrials = 3000;
  int alarms = 0;
  for (int i = 0; i < kTrials; ++i) {
    const Pose pose = beside_part(draw);
    const auto first = nests_from(scene, pose, draw), again = nests_from(scene, pose, draw);
    alarms += find_movement(scene, first, again, pose).moved == Moved::nothing ? 0 : 1;
  }
  EXPECT_NEAR(alarms, 0.01 * kTrials, 4 * std::sqrt(0.01 * kTrials));
}

TEST(Movement, AStationThatMovedIsTold) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 32;
  Draw draw(kSeed);
  int told = 0;
  constexpr int kTrials = 200;
  for (int i = 0; i < kTrials; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    const Pose pose = beside_part(draw);
    const Vec3 shift = draw.between(0.3, 2) * draw.direction();
    const double turn = draw.between(1e-4, 1e-3);
    const auto first = nests_from(scene, pose, draw);
    const auto again = nests_from(scene, nudged(pose, shift, turn), draw);
    const Movement movement = find_movement(scene, first, again, pose);
    ASSERT_TRUE(movement.shift_of_station);
    EXPECT_LT((*movement.shift_of_station - shift).norm(), 0.2);
    EXPECT_LT((movement.turn_of_station - turn * Vec3::UnitZ()).norm(), 1e-4);
    told += movement.moved == Moved::station ? 1 : 0;
  }
  EXPECT_GE(told, kTrials - 8);  // after the motion the rest is over its 1 % bound by chance
}

TEST(Movement, ANestThatMovedIsNamed) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 33;
  Draw draw(kSeed);
  int told = 0;
  constexpr int kTrials = 200;
  for (int i = 0; i < kTrials; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    const Pose pose = beside_part(draw);
    const auto first = nests_from(scene, pose, draw);
    auto again = nests_from(scene, pose, draw);
    const std::size_t wrong = draw.below(again.size());
    const Vec3 shift = draw.between(0.4, 3) * draw.direction();
    again[wrong].at += pose.linear().transpose() * shift;
    const Movement movement = find_movement(scene, first, again, pose);
    if (movement.moved != Moved::nest) continue;
    ++told;
    EXPECT_EQ(movement.nest, wrong);
    EXPECT_LT((movement.nests[wrong].shift - shift).norm(), 0.35);
  }
  EXPECT_GE(told, kTrials - 8);
}

TEST(Movement, SeveralNestsAreToldAsSeveralAndTwoAsUnsure) {
  const MadeScene scene = part_job();
  Draw draw(34);
  const Pose pose = beside_part(draw);
  const auto first = nests_from(scene, pose, draw);
  auto again = nests_from(scene, pose, draw);
  again[0].at += Vec3(3, 0, 0);
  again[2].at += Vec3(0, 4, 2);
  EXPECT_EQ(find_movement(scene, first, again, pose).moved, Moved::several);
  again.resize(2);
  const Movement two = find_movement(scene, first, again, pose);
  EXPECT_EQ(two.moved, Moved::cannot_tell);
  EXPECT_FALSE(two.shift_of_station);
}

TEST(Movement, WithoutAStatedErrorTheShiftsAreToldAndNothingIsTested) {
  MadeScene scene = part_job();
  Draw draw(35);
  const Pose pose = beside_part(draw);
  auto first = nests_from(scene, pose, draw);
  auto again = first;
  again[1].at += pose.linear().transpose() * Vec3(0, 0, 2);
  scene.instrument.error = {};
  const Movement movement = find_movement(scene, first, again, pose);
  EXPECT_EQ(movement.moved, Moved::untested);
  EXPECT_LT((movement.nests[1].shift - Vec3(0, 0, 2)).norm(), 1e-9);
  EXPECT_EQ(movement.nests[0].shift, Vec3::Zero());
}

}  // namespace
}  // namespace standpoint::test
