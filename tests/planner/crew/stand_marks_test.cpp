#include "planner/crew/stand_marks.h"

#include <cmath>

#include <gtest/gtest.h>

#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

Landmark at(double x, double y, double z = 0) {
  Landmark landmark;
  landmark.nest = NestId(std::size_t{0});
  landmark.at = {x, y, z};
  return landmark;
}

/// How uncertain a place is that two tapes tell, each uncertain in proportion to its length: found
/// by pulling each tape in turn and solving for the place anew, not by the formula.
double pulled(const Vec2& a, const Vec2& b, const Vec2& place) {
  const auto solve = [&](double da, double db) {
    // Newton on the two circles, from the true place.
    Vec2 p = place;
    for (int i = 0; i < 50; ++i) {
      Eigen::Matrix2d jacobian;
      jacobian.row(0) = (p - a).normalized().transpose();
      jacobian.row(1) = (p - b).normalized().transpose();
      p -= jacobian.inverse() * Vec2((p - a).norm() - da, (p - b).norm() - db);
    }
    return p;
  };
  const double da = (place - a).norm(), db = (place - b).norm(), pull = 1e-6;
  return ((solve(da * (1 + pull), db) - place).norm() +
          (solve(da, db * (1 + pull)) - place).norm()) /
         pull;
}

TEST(StandMarks, ThePairPutsTheStandBest) {
  constexpr std::uint64_t kSeed = 5;
  test::Draw draw(kSeed);
  for (int i = 0; i < 60; ++i) {
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << " case " << i);
    std::vector<Landmark> landmarks;
    for (int k = 0; k < 12; ++k)
      landmarks.push_back(at(draw.between(0, 4000), draw.between(0, 4000), draw.between(0, 900)));
    const Vec3 station = draw.in_box({-2000, -2000, 1000}, {6000, 6000, 1500});
    const auto marks = stand_marks(landmarks, station, 0);
    ASSERT_GE(marks.size(), 2u);
    const auto judged = [&](const Landmark& a, const Landmark& b) {
      return pulled(a.at.head<2>(), b.at.head<2>(), station.head<2>());
    };
    const double chosen = judged(marks[0], marks[1]);
    for (std::size_t a = 0; a < landmarks.size(); ++a) {
      for (std::size_t b = 0; b < a; ++b)
        EXPECT_GE(judged(landmarks[a], landmarks[b]), chosen * (1 - 1e-3));
    }
  }
}

TEST(StandMarks, TheThirdIsTheNearestThatChecksBoth) {
  // North and east fix the place; one just beside north is nearer, but checks nothing.
  const auto marks =
      stand_marks({at(0, 1000), at(1000, 0), at(20, 1100), at(-900, -900)}, Vec3(0, 0, 1300), 0);
  ASSERT_EQ(marks.size(), 3u);
  EXPECT_EQ(marks[0].at, Vec3(0, 1000, 0));
  EXPECT_EQ(marks[1].at, Vec3(1000, 0, 0));
  EXPECT_EQ(marks[2].at, Vec3(-900, -900, 0));
}

TEST(StandMarks, AtLeastOneIsOnThePartWhereOneIs) {
  std::vector<Landmark> landmarks{at(0, 1000), at(1000, 0), at(-900, -900), at(-1500, -1500)};
  landmarks[3].is_on_part = true;
  const Vec3 station(0, 0, 1300);
  EXPECT_EQ(stand_marks(landmarks, station, 0)[2].at, Vec3(-1500, -1500, 0));
  landmarks[0].is_on_part = true;  // one of the pair is: the nearest will do
  EXPECT_EQ(stand_marks(landmarks, station, 0)[2].at, Vec3(-900, -900, 0));
}

TEST(StandMarks, WhatLiesBetweenTheLegsIsPassedOver) {
  const std::vector<Landmark> landmarks{at(0, 300), at(0, 1000), at(1000, 0)};
  for (const Landmark& mark : stand_marks(landmarks, Vec3(0, 0, 1300), 300))
    EXPECT_GT(mark.at.norm(), 300);
  EXPECT_EQ(stand_marks(landmarks, Vec3(0, 0, 1300), 299)[0].at, Vec3(0, 300, 0));
}

TEST(StandMarks, WhatDoesNotFixAPlaceIsNotTakenForAPair) {
  // All in one line through the station: the nearest alone is given.
  const auto line = stand_marks({at(2000, 0), at(1000, 0), at(-3000, 0)}, Vec3(0, 0, 1300), 0);
  ASSERT_EQ(line.size(), 1u);
  EXPECT_EQ(line[0].at, Vec3(1000, 0, 0));
  // Straight under the station: no direction.
  EXPECT_TRUE(stand_marks({at(0, 0)}, Vec3(0, 0, 1300), 0).empty());
  EXPECT_TRUE(stand_marks({}, Vec3(0, 0, 1300), 0).empty());
}

/// One body that has only vertices.
Cell cell_with(BodyRole role, const std::vector<Vec3>& vertices) {
  Mesh mesh;
  mesh.vertices = vertices;
  Scene scene;
  scene.bodies = {{"body", role}};
  return {scene, {std::make_shared<const Mesh>(mesh)}};
}

TEST(Landmarks, CornersAreThoseThatTheBodyHas) {
  // A plate with one corner cut off, its south-east corner standing 100 higher.
  const Cell plate = cell_with(
      BodyRole::part,
      {{0, 0, 0}, {1000, 0, 100}, {1000, 500, 0}, {900, 600, 0}, {0, 600, 0}, {0, 600, 300}});
  const auto landmarks = landmarks_of(plate);
  ASSERT_EQ(landmarks.size(), 3u);
  for (const Landmark& landmark : landmarks) {
    ASSERT_TRUE(landmark.corner);
    EXPECT_TRUE(landmark.corner->is_on_body);
    EXPECT_FALSE(landmark.corner->is_at_most_x && landmark.corner->is_at_most_y);
  }
  EXPECT_EQ(landmarks[1].at, Vec3(1000, 0, 100));
  EXPECT_EQ(landmarks[2].at, Vec3(0, 600, 0));  // the lower of its two vertices
}

TEST(Landmarks, AreThePointsAndHolesAndNests) {
  Scene scene;
  scene.features.resize(3);
  scene.features[0].shape = PointFeature{{1, 2, 3}, Vec3::UnitZ()};
  scene.features[1].shape = SphereFeature{{9, 9, 9}, Vec3::UnitZ(), 5};  // its centre is nowhere
  scene.features[2].shape = HoleFeature{{4, 5, 6}, Vec3::UnitZ(), 5, 10};
  scene.nests = {{"N1", {7, 8, 9}, Vec3::UnitZ(), 0.5}};
  const auto landmarks = landmarks_of(Cell(scene, {}));
  ASSERT_EQ(landmarks.size(), 3u);
  EXPECT_EQ(landmarks[0].feature, FeatureId(std::size_t{0}));
  EXPECT_EQ(landmarks[1].at, Vec3(4, 5, 6));
  EXPECT_EQ(landmarks[2].nest, NestId(std::size_t{0}));
}

TEST(Landmarks, BoxesHelpOutWhereThereIsNothingElse) {
  const std::vector<Vec3> octagon{{300, 0, 50},  {600, 0, 0},   {900, 300, 0}, {900, 600, 0},
                                  {600, 900, 0}, {300, 900, 0}, {0, 600, 0},   {0, 300, 0}};
  const auto landmarks = landmarks_of(cell_with(BodyRole::surroundings, octagon));
  ASSERT_EQ(landmarks.size(), 4u);
  for (const Landmark& landmark : landmarks) EXPECT_FALSE(landmark.corner->is_on_body);
  EXPECT_EQ(landmarks[0].at, Vec3(0, 0, 0));
  EXPECT_EQ(landmarks[2].at, Vec3(900, 900, 0));
}

}  // namespace
}  // namespace standpoint
