// The set-up found from nests and the part's surfaces together.

#include "planner/setup/part_set_up.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <Eigen/Cholesky>

#include "tests/planner/setup/part_job.h"

namespace standpoint::test {
namespace {

using testing::ElementsAre;

/// How far a pose puts things near the part off where another does, mm.
double apart(const Pose& a, const Pose& b) {
  double most = 0;
  for (const Vec3& at : {Vec3(0, 0, 0), Vec3(900, 0, 400), Vec3(0, 700, 400), Vec3(0, 0, 400)})
    most = std::max(most, (a * (b.inverse() * at) - at).norm());
  return most;
}

SetUpFaultKind only_fault(const PartSetUpResult& result) {
  EXPECT_FALSE(result.set_up);
  EXPECT_EQ(result.faults.size(), 1u);
  return result.faults.empty() ? SetUpFaultKind::too_few : result.faults.front().kind;
}

void read_whole_part(Reader& reader, bool numbered) {
  for (const char* name : {"top", "front", "left", "bore", "boss", "ball", "cone"})
    reader.feature(name, "ball-38", "ball-38", numbered);
  reader.feature("slot", "ball-13", "ball-13", numbered);
  reader.feature("dowel-1", "ball-38", "ball-38", numbered);
  reader.feature("dowel-2", "ball-13", "ball-13", numbered);
}

// No guess at all: whatever the posture, with and without touch numbers, with and without nests.
TEST(PartSetUp, FindsThePlantedPoseFromNowhere) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 3;
  Draw draw(kSeed);
  for (int i = 0; i < 60; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    const Pose truth = anywhere(draw);
    Reader reader(scene, truth);
    if (draw.chance(0.3)) reader.nests();
    read_whole_part(reader, draw.chance(0.5));
    draw.shuffle(reader.rows);
    const PartSetUpResult result = stand_by_part(scene, reader.rows);
    ASSERT_TRUE(result.set_up);
    EXPECT_LT(apart(result.set_up->world_from_instrument, truth), 1e-6);
    EXPECT_TRUE(result.set_up->fits);
    EXPECT_THAT(result.part.findings, testing::IsEmpty());
  }
}

// Three planes as 3-2-1, no numbers: six readings for six unknowns, which fit in many ways; the way
// that is told is the one on the part. Drawn far off the true pose.
TEST(PartSetUp, SixReadingsOfThreePlanesStandOnThePart) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 4;
  Draw draw(kSeed);
  for (int i = 0; i < 40; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    const Pose truth = anywhere(draw);
    Reader reader(scene, truth);
    reader.feature("top", "ball-38", "ball-38", true, 3);
    reader.feature("front", "ball-38", "ball-38", true, 2);
    reader.feature("left", "ball-38", "ball-38", true, 1);
    const PartSetUpResult result = stand_by_part(scene, reader.rows);
    ASSERT_TRUE(result.set_up);
    EXPECT_LT(apart(result.set_up->world_from_instrument, truth), 1e-6);
    EXPECT_FALSE(result.set_up->is_tested);
    EXPECT_EQ(result.set_up->degrees_of_freedom, 0);
  }
}

TEST(PartSetUp, NestsAloneGiveThePoseOfTheRigidFit) {
  const MadeScene scene = part_job();
  Draw draw(5);
  Reader reader(scene, beside_part(draw));
  reader.nests();
  disturb(draw, scene, reader.rows);
  std::vector<SeenNest> nests;
  for (const SeenRow& row : reader.rows) nests.push_back({*row.nest, row.at});
  const RealStation expected = *resect(scene, nests).set_up;
  const RealStation found = *stand_by_part(scene, reader.rows).set_up;
  EXPECT_LT(apart(found.world_from_instrument, expected.world_from_instrument), 1e-5);
  EXPECT_NEAR(found.chi_square, expected.chi_square, 1e-4 * expected.chi_square);
  EXPECT_LT((*found.pose_covariance - *expected.pose_covariance).norm(),
            1e-3 * expected.pose_covariance->norm());
}

TEST(PartSetUp, NamesTheMotionThatReadingsLeaveFree) {
  const MadeScene scene = part_job();
  Draw draw(6);
  Reader reader(scene, beside_part(draw));
  reader.feature("top", "ball-38", "ball-38");
  reader.feature("front", "ball-38", "ball-38");
  const PartSetUpResult result = stand_by_part(scene, reader.rows);
  ASSERT_EQ(only_fault(result), SetUpFaultKind::motion_free);
  ASSERT_EQ(result.faults[0].free.size(), 1u);
  EXPECT_FALSE(result.faults[0].free[0].turns);
  EXPECT_GT(std::abs(result.faults[0].free[0].direction.x()), 1 - 1e-6);
}

TEST(PartSetUp, TellsEveryRowThatCannotBeUsed) {
  MadeScene scene = part_job();
  SurfaceFeature hull;
  hull.touches = {{Vec3(0, 0, 0), Vec3::UnitZ()}, {Vec3(100, 0, 0), Vec3(1, 0, 1).normalized()}};
  add_feature(scene, "hull", hull);
  Draw draw(7);
  Reader reader(scene, beside_part(draw));
  read_whole_part(reader, true);
  const std::size_t first = reader.rows.size();
  SeenRow row;
  row.at = {1000, 0, 0};
  row.feature = feature_named(scene, "slot");
  row.target = target_named(scene, "ball-38");  // fits the slot's width, not a smaller one's
  scene.features[row.feature.index].shape =
      SlotFeature{{400, 600, 400}, Vec3::UnitZ(), Vec3::UnitX(), 30, 160, 60};
  reader.rows.push_back(row);
  row.feature = feature_named(scene, "left");
  row.touch = 3;
  reader.rows.push_back(row);
  row.feature = feature_named(scene, "hull");
  row.touch.reset();
  reader.rows.push_back(row);
  row.at = Vec3::Zero();
  reader.rows.push_back(row);
  const PartSetUpResult result = stand_by_part(scene, reader.rows);
  std::vector<SetUpFaultKind> kinds;
  for (const SetUpFault& fault : result.faults)
    if (fault.seen.front() >= first) kinds.push_back(fault.kind);
  EXPECT_THAT(kinds, ElementsAre(SetUpFaultKind::no_way, SetUpFaultKind::no_touch,
                                 SetUpFaultKind::needs_touch, SetUpFaultKind::at_instrument));
}

TEST(PartSetUp, TellsWrongUnitsMirroredFramesAndSwappedNames) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 8;
  Draw draw(kSeed);
  for (int i = 0; i < 2; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", case " << i);
    Reader reader(scene, beside_part(draw));
    reader.nests();
    read_whole_part(reader, true);
    disturb(draw, scene, reader.rows);
    auto inches = reader.rows, mirrored = reader.rows, swapped = reader.rows, nests = reader.rows;
    for (SeenRow& row : inches) row.at /= 25.4;
    EXPECT_EQ(only_fault(stand_by_part(scene, inches)), SetUpFaultKind::wrong_units);
    for (SeenRow& row : mirrored) row.at.x() = -row.at.x();
    EXPECT_EQ(only_fault(stand_by_part(scene, mirrored)), SetUpFaultKind::mirrored);
    std::swap(nests[1].nest, nests[2].nest);
    const PartSetUpResult of_nests = stand_by_part(scene, nests);
    ASSERT_EQ(only_fault(of_nests), SetUpFaultKind::swapped_names);
    EXPECT_THAT(of_nests.faults[0].seen, ElementsAre(1, 2));
  }
}

TEST(PartSetUp, TellsTwoFeaturesWhoseNamesAreSwapped) {
  const MadeScene scene = part_job();
  Draw draw(9);
  Reader reader(scene, beside_part(draw));
  reader.nests();
  reader.feature("top", "ball-38", "ball-38");
  const std::size_t first = reader.rows.size();
  reader.feature("dowel-1", "ball-38", "ball-38");
  reader.feature("dowel-2", "ball-38", "ball-38");
  disturb(draw, scene, reader.rows);
  std::swap(reader.rows[first].feature, reader.rows[first + 1].feature);
  const PartSetUpResult result = stand_by_part(scene, reader.rows);
  ASSERT_EQ(only_fault(result), SetUpFaultKind::swapped_names);
  EXPECT_THAT(result.faults[0].seen, ElementsAre(first, first + 1));
}

// A point's normal is measured; across it the hand is good to a millimetre, unless the scene says
// that the place can be told.
TEST(PartSetUp, PointsCountAcrossTheirNormalAsAHandFindsThem) {
  MadeScene scene = bare_scene();
  scene.full_targets = {ball_target()};
  const std::vector<Vec3> places{{0, 0, 0}, {800, 0, 50}, {0, 600, 20}, {800, 600, 300}};
  for (const Vec3& at : places)
    add_feature(scene, "pad-" + std::to_string(scene.features.size()),
                PointFeature{at, Vec3::UnitZ()});
  Draw draw(10);
  const Pose truth = beside_part(draw);
  Reader reader(scene, truth);
  for (const Feature& feature : scene.features) reader.feature(feature.name, "ball-38", "ball-38");
  const PartSetUpResult rough = stand_by_part(scene, reader.rows);
  ASSERT_TRUE(rough.set_up);
  EXPECT_LT(apart(rough.set_up->world_from_instrument, truth), 1e-6);
  // Shifts level: four hands of 1 mm; at the level of the beam's own error it would be 0.02.
  const auto level_error = [&](const PartSetUpResult& result) {
    const Vec3 middle(400, 300, 100);
    return std::sqrt(
        carry_pose(*result.set_up->pose_covariance, result.set_up->measuring_centre, middle)(0, 0));
  };
  EXPECT_NEAR(level_error(rough), 0.5, 0.02);
  for (Feature& feature : scene.features) std::get<PointFeature>(feature.shape).holds_all = true;
  EXPECT_LT(level_error(stand_by_part(scene, reader.rows)), 0.02);
}

// 1500 set-ups drawn: the poses scatter as predicted, chi-square as its degrees of freedom say.
TEST(PartSetUp, SpreadOfDrawnSetUpsIsAsPredicted) {
  const MadeScene scene = part_job();
  constexpr std::uint64_t kSeed = 11;
  SCOPED_TRACE("seed 11");
  Draw draw(kSeed);
  const Pose truth = beside_part(draw);
  Reader reader(scene, truth);
  read_whole_part(reader, true);
  const RealStation exact = *stand_by_part(scene, reader.rows).set_up;
  const Mat6 root = exact.pose_covariance->llt().matrixL();
  constexpr int kTrials = 1500;
  double square = 0, chi_square = 0;
  int misfits = 0;
  for (int i = 0; i < kTrials; ++i) {
    std::vector<SeenRow> rows = reader.rows;
    disturb(draw, scene, rows);
    const auto set_up = stand_by_part(scene, rows).set_up;
    ASSERT_TRUE(set_up) << i;
    const Mat3 turn = set_up->world_from_instrument.linear() * truth.linear().transpose();
    Vec6 error;
    error << set_up->measuring_centre - truth.translation(), (turn(2, 1) - turn(1, 2)) / 2,
        (turn(0, 2) - turn(2, 0)) / 2, (turn(1, 0) - turn(0, 1)) / 2;
    square += root.triangularView<Eigen::Lower>().solve(error).squaredNorm();
    chi_square += set_up->chi_square;
    misfits += set_up->fits ? 0 : 1;
  }
  // Means of chi-square with 6 and with all degrees of freedom, to four standard errors.
  EXPECT_NEAR(square / kTrials, 6, 4 * std::sqrt(12.0 / kTrials));
  const double freedoms = exact.degrees_of_freedom;
  EXPECT_NEAR(chi_square / kTrials, freedoms, 4 * std::sqrt(2 * freedoms / kTrials));
  EXPECT_NEAR(misfits, 0.05 * kTrials, 4 * std::sqrt(0.0475 * kTrials));
}

TEST(PartSetUp, WithoutAStatedErrorNothingIsTested) {
  MadeScene scene = part_job();
  scene.instrument.error = {};
  Draw draw(12);
  const Pose truth = beside_part(draw);
  Reader reader(scene, truth);
  read_whole_part(reader, false);
  const PartSetUpResult result = stand_by_part(scene, reader.rows);
  ASSERT_TRUE(result.set_up);
  EXPECT_LT(apart(result.set_up->world_from_instrument, truth), 1e-6);
  EXPECT_FALSE(result.set_up->is_tested);
  EXPECT_FALSE(result.set_up->pose_covariance);
}

}  // namespace
}  // namespace standpoint::test
