#include "planner/crew/cautions.h"
#include "tests/draw.h"

#include <gtest/gtest.h>

namespace standpoint {
namespace {

Walkway square() {
  return {"gangway", 0, {{0, 0}, {4000, 0}, {4000, 1000}, {0, 1000}}};
}

/// A "U" open at the top, to cross twice.
Walkway bent() {
  return {"bend",
          100,
          {{0, 0},
           {3000, 0},
           {3000, 2000},
           {2000, 2000},
           {2000, 1000},
           {1000, 1000},
           {1000, 2000},
           {0, 2000}}};
}

TEST(StretchAtEyeHeight, IsThePartOfTheBeamInsideThePrism) {
  // Level at 1500, straight across.
  const auto stretch = stretch_at_eye_height(square(), {500, -500, 1500}, {500, 2000, 1500});
  ASSERT_TRUE(stretch);
  EXPECT_TRUE(stretch->first.isApprox(Vec3(500, 0, 1500), 1e-12));
  EXPECT_TRUE(stretch->second.isApprox(Vec3(500, 1000, 1500), 1e-12));
}

TEST(StretchAtEyeHeight, IsCutByTheBandsFloorAndCeiling) {
  // Climbs from 1000 at y = 0 to 3000 at y = 1000: at eye height from y = 100 to y = 500.
  const auto stretch = stretch_at_eye_height(square(), {500, 0, 1000}, {500, 1000, 3000});
  ASSERT_TRUE(stretch);
  EXPECT_TRUE(stretch->first.isApprox(Vec3(500, 100, 1200), 1e-12));
  EXPECT_TRUE(stretch->second.isApprox(Vec3(500, 500, 2000), 1e-12));
  // And the other way round.
  const auto back = stretch_at_eye_height(square(), {500, 1000, 3000}, {500, 0, 1000});
  ASSERT_TRUE(back);
  EXPECT_TRUE(back->first.isApprox(stretch->second, 1e-12));
}

TEST(StretchAtEyeHeight, BeamsAboveBelowAndBesideAreNotTold) {
  EXPECT_FALSE(stretch_at_eye_height(square(), {500, -500, 2001}, {500, 2000, 2001}));
  EXPECT_FALSE(stretch_at_eye_height(square(), {500, -500, 1199}, {500, 2000, 1199}));
  EXPECT_FALSE(stretch_at_eye_height(square(), {-1, -500, 1500}, {-1, 2000, 1500}));
  // At eye height only before it reaches the walkway.
  EXPECT_FALSE(stretch_at_eye_height(square(), {500, -1000, 1500}, {500, 1000, 500}));
  // Ends before the walkway.
  EXPECT_FALSE(stretch_at_eye_height(square(), {500, -500, 1500}, {500, -1, 1500}));
}

TEST(StretchAtEyeHeight, TouchingTheBorderCounts) {
  EXPECT_TRUE(stretch_at_eye_height(square(), {500, -500, 2000}, {500, 2000, 2000}));
  EXPECT_TRUE(stretch_at_eye_height(square(), {500, -500, 1200}, {500, 2000, 1200}));
  EXPECT_TRUE(stretch_at_eye_height(square(), {0, -500, 1500}, {0, 2000, 1500}));  // along an edge
  EXPECT_TRUE(stretch_at_eye_height(square(), {-500, 500, 1500}, {500, -500, 1500}));  // a corner
  EXPECT_TRUE(stretch_at_eye_height(square(), {500, -500, 1500}, {500, 0, 1500}));     // ends on it
}

TEST(StretchAtEyeHeight, CountsFromTheWalkwaysOwnFloor) {
  Walkway raised = square();
  raised.floor = 3000;
  EXPECT_FALSE(stretch_at_eye_height(raised, {500, -500, 1500}, {500, 2000, 1500}));
  EXPECT_TRUE(stretch_at_eye_height(raised, {500, -500, 4500}, {500, 2000, 4500}));
}

TEST(StretchAtEyeHeight, AnUprightBeamIsJudgedByWhereItStands) {
  const auto inside = stretch_at_eye_height(square(), {500, 500, 0}, {500, 500, 5000});
  ASSERT_TRUE(inside);
  EXPECT_TRUE(inside->first.isApprox(Vec3(500, 500, 1200), 1e-12));
  EXPECT_TRUE(inside->second.isApprox(Vec3(500, 500, 2000), 1e-12));
  EXPECT_FALSE(stretch_at_eye_height(square(), {500, 1500, 0}, {500, 1500, 5000}));
}

TEST(StretchAtEyeHeight, RunsFromTheFirstToTheLastPointOverABend) {
  const auto stretch = stretch_at_eye_height(bent(), {-500, 1500, 1600}, {3500, 1500, 1600});
  ASSERT_TRUE(stretch);
  EXPECT_NEAR(stretch->first.x(), 0, 1e-9);
  EXPECT_NEAR(stretch->second.x(), 3000, 1e-9);
  // Only through the gap between the arms.
  EXPECT_FALSE(stretch_at_eye_height(bent(), {1500, 3000, 1600}, {1500, 1001, 1600}));
}

/// Even-odd rule on a point, for the walk below; shares nothing with the code under test.
bool is_over(const Walkway& walkway, const Vec3& p) {
  bool is_in = false;
  const auto& corners = walkway.polygon;
  for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
    if ((corners[i].y() > p.y()) == (corners[j].y() > p.y())) continue;
    const double x = corners[i].x() + (p.y() - corners[i].y()) / (corners[j].y() - corners[i].y()) *
                                          (corners[j].x() - corners[i].x());
    if (p.x() < x) is_in = !is_in;
  }
  return is_in && p.z() >= walkway.floor + 1200 && p.z() <= walkway.floor + 2000;
}

TEST(StretchAtEyeHeight, AgreesWithAWalkAlongRandomBeams) {
  constexpr unsigned kSeed = 20240;
  test::Draw draw(kSeed);
  int crossing = 0;
  for (int i = 0; i < 2000; ++i) {
    const Walkway walkway = i % 2 == 0 ? square() : bent();
    const Vec3 a = draw.in_box({-1500, -1500, 0}, {5000, 3500, 3500});
    const Vec3 b = draw.in_box({-1500, -1500, 0}, {5000, 3500, 3500});
    const auto stretch = stretch_at_eye_height(walkway, a, b);
    constexpr int kSteps = 2000;
    std::optional<double> first, last;
    for (int s = 0; s <= kSteps; ++s) {
      const double t = s / static_cast<double>(kSteps);
      if (!is_over(walkway, a + t * (b - a))) continue;
      if (!first) first = t;
      last = t;
    }
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << " case " << i);
    if (!first) {
      // The walk may step over a corner that the beam cuts off.
      if (stretch) {
        EXPECT_LT((stretch->second - stretch->first).norm(), 2 * (b - a).norm() / kSteps);
      }
      continue;
    }
    ++crossing;
    ASSERT_TRUE(stretch);
    const double step = 1.01 * (b - a).norm() / kSteps;
    EXPECT_LT((stretch->first - (a + *first * (b - a))).norm(), step);
    EXPECT_LT((stretch->second - (a + *last * (b - a))).norm(), step);
  }
  EXPECT_GT(crossing, 300);  // the cases are of both kinds
  EXPECT_LT(crossing, 1700);
}

/// One station that measures one feature with one beam, and takes one nest.
struct Job {
  Scene scene;
  Plan plan;
};

Job job(const Vec3& station, const Vec3& touch, const Vec3& nest) {
  Job job;
  job.scene.zones = {{"floor", 500, {{0, 0}, {1, 0}, {0, 1}}, {1500}, 1}};
  job.scene.walkways = {square()};
  job.scene.features.resize(1);
  job.scene.nests = {{"N1", nest, Vec3::UnitZ(), 0.8}};
  PlannedStation planned;
  planned.at = station;
  planned.zone = 0;
  planned.nests = {NestId(std::size_t{0})};
  Reached reached{TargetId(std::size_t{0}), 1, std::nullopt, {touch}};
  TouchMark mark;
  mark.at = touch;
  mark.best = reached;
  planned.sight.at = station;
  planned.sight.features.resize(1);
  planned.sight.features[0].touches = {mark};
  planned.sight.features[0].by_target = {reached};
  mark.at = nest;
  mark.best->beam_ends = {nest};
  planned.sight.nests = {{NestId(std::size_t{0}), mark}};
  job.plan.stations = {planned};
  PlannedFeature feature;
  feature.verdict = Verdict::full_target;
  feature.station = StationId(std::size_t{0});
  job.plan.features = {feature};
  return job;
}

TEST(FindCautions, ListsBeamsToFeaturesAndToNests) {
  const Job both = job({500, -500, 1500}, {500, 2000, 1500}, {700, 2000, 1500});
  const Cautions cautions = find_cautions(both.scene, both.plan);
  ASSERT_EQ(cautions.beams.size(), 2u);
  EXPECT_TRUE(cautions.beams[0].feature);
  EXPECT_FALSE(cautions.beams[0].nest);
  EXPECT_TRUE(cautions.beams[1].nest);
  EXPECT_TRUE(cautions.beams[0].from.isApprox(Vec3(500, 0, 1500), 1e-12));

  const Job over = job({500, -500, 2500}, {500, 2000, 2500}, {700, 2000, 2500});
  EXPECT_TRUE(find_cautions(over.scene, over.plan).beams.empty());
}

TEST(FindCautions, ListsAFeatureOnceAWalkwayHoweverManyTouches) {
  // The nest lies so low that the beam to it is under the eyes before it reaches the walkway.
  Job many = job({500, -500, 1500}, {500, 2000, 1500}, {700, 2000, -500});
  auto& mark = many.plan.stations[0].sight.features[0];
  mark.touches.resize(5, mark.touches[0]);
  mark.by_target.resize(5, mark.by_target[0]);
  EXPECT_EQ(find_cautions(many.scene, many.plan).beams.size(), 1u);
}

TEST(FindCautions, HeightsCountFromTheFloorAndOnlyAboveTwoMetres) {
  // The floor is at 500: 2500 is exactly 2 m above it.
  const Job at_limit = job({0, 0, 2500}, {0, 0, 2500}, {0, 0, 2500});
  const Cautions none = find_cautions(at_limit.scene, at_limit.plan);
  EXPECT_TRUE(none.stations.empty() && none.features.empty() && none.nests.empty());

  const Job high = job({0, 0, 2501}, {0, 0, 2600}, {0, 0, 2700});
  const Cautions cautions = find_cautions(high.scene, high.plan);
  ASSERT_EQ(cautions.stations.size(), 1u);
  EXPECT_DOUBLE_EQ(cautions.stations[0].height, 2001);
  ASSERT_EQ(cautions.features.size(), 1u);
  EXPECT_DOUBLE_EQ(cautions.features[0].height, 2100);
  EXPECT_EQ(cautions.features[0].touches, 1u);
  ASSERT_EQ(cautions.nests.size(), 1u);
  EXPECT_DOUBLE_EQ(cautions.nests[0].height, 2200);
}

TEST(FindCautions, TouchesThatAreNotReachedAreNobodysWork) {
  Job high = job({0, 0, 1500}, {0, 0, 2600}, {0, 0, 100});
  high.plan.stations[0].sight.features[0].by_target = {std::nullopt};
  EXPECT_TRUE(find_cautions(high.scene, high.plan).features.empty());
}

TEST(FindCautions, NamesWhatIsMeasuredByHandHeldStylus) {
  Job stylus = job({0, 0, 1500}, {0, 0, 800}, {0, 0, 100});
  EXPECT_TRUE(find_cautions(stylus.scene, stylus.plan).by_hand_held.empty());
  stylus.plan.features[0].verdict = Verdict::offset_stylus;
  stylus.plan.stations[0].sight.features[0].verdict = Verdict::offset_stylus;
  EXPECT_EQ(find_cautions(stylus.scene, stylus.plan).by_hand_held.size(), 1u);
}

/// `job` with a second station: it takes the feature too, by stylus and high up, but no nest.
Job two_stations() {
  Job both = job({500, -500, 1500}, {500, 2000, 1500}, {700, 2000, 1500});
  PlannedStation second = both.plan.stations[0];
  second.nests.clear();
  second.at = {500, 3000, 4000};
  FeatureMark& mark = second.sight.features[0];
  mark.verdict = Verdict::offset_stylus;
  mark.touches[0].at = {500, 2000, 3600};
  mark.by_target[0]->beam_ends = {{500, 2000, 3600}};
  both.plan.stations.push_back(second);
  both.plan.features[0].also_from = {StationId(std::size_t{1})};
  return both;
}

TEST(FindCautions, AStationHasItsOwn) {
  const Job both = two_stations();
  const Cautions first = find_cautions_at(both.scene, both.plan, StationId(std::size_t{0}));
  EXPECT_EQ(first.beams.size(), 2u);
  EXPECT_TRUE(first.stations.empty() && first.features.empty() && first.by_hand_held.empty());
  const Cautions second = find_cautions_at(both.scene, both.plan, StationId(std::size_t{1}));
  EXPECT_TRUE(second.beams.empty());
  ASSERT_EQ(second.stations.size(), 1u);
  EXPECT_EQ(second.stations[0].station, StationId(std::size_t{1}));
  EXPECT_EQ(second.features.size(), 1u);
  EXPECT_EQ(second.by_hand_held.size(), 1u);
}

TEST(FindCautions, WhatAFurtherStationDoesIsToldOfTheWholePlanToo) {
  const Job both = two_stations();
  const Cautions cautions = find_cautions(both.scene, both.plan);
  EXPECT_EQ(cautions.beams.size(), 2u);
  EXPECT_EQ(cautions.stations.size(), 1u);
  ASSERT_EQ(cautions.features.size(), 1u);
  EXPECT_DOUBLE_EQ(cautions.features[0].height, 3100);
  EXPECT_EQ(cautions.by_hand_held.size(), 1u);
}

TEST(FindCautions, ListStationsWhoseInstrumentDoesNotStandUpright) {
  Job both = two_stations();
  EXPECT_TRUE(find_cautions(both.scene, both.plan).not_upright.empty());
  both.plan.stations[1].up = -Vec3::UnitZ();
  const StationId first(std::size_t{0}), second(std::size_t{1});
  EXPECT_EQ(find_cautions(both.scene, both.plan).not_upright, std::vector{second});
  EXPECT_TRUE(find_cautions_at(both.scene, both.plan, first).not_upright.empty());
  EXPECT_EQ(find_cautions_at(both.scene, both.plan, second).not_upright, std::vector{second});
}

}  // namespace
}  // namespace standpoint
