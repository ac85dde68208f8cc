// What the part's frame is laid on: the choice against every choice, and where the crew begins.

#include "planner/planning/choose_alignment.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "planner/model/tolerances.h"
#include "planner/network/alignment.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();

/// Points on all sides of a part that is not there, so that nothing hides them; one place or two.
MadeScene drawn_part(Draw& draw, int points, int places) {
  MadeScene scene = bare_scene();
  scene.instrument.error = {2, {0.014, 7.5e-6}, {0.012, 0.9e-6}};
  FullTarget ball = ball_target();
  ball.acceptance_rad = 180 * kDeg;  // from behind, too: the part is thin air
  scene.full_targets.push_back(ball);
  for (int i = 0; i < points; ++i)
    add_feature(scene, "p-" + std::to_string(i),
                PointFeature{draw.in_box({-900, -500, 300}, {900, 500, 1200}), draw.direction()});
  for (int i = 0; i < 5; ++i)
    add_nest(scene, "N" + std::to_string(i), draw.in_box({-2500, -2000, 200}, {2500, 2000, 1800}));
  for (int i = 0; i < places; ++i)
    scene.fixed_stations.push_back(
        {"P" + std::to_string(i), Vec3(i == 0 ? -4000 : 4200, 300.0 * i, 1300), true});
  return scene;
}

std::vector<PlannedStation> looked(const MadeScene& scene) {
  const Cell cell = cell_of(scene);
  std::vector<PlannedStation> stations;
  for (const FixedStation& place : scene.fixed_stations) {
    PlannedStation& station = stations.emplace_back();
    station.name = place.name;
    station.at = place.at;
    station.sight = look_from(cell, place.at);
  }
  return stations;
}

/// The worst figure with the frame laid on these.
double worst_with(const Scene& scene, const std::vector<PlannedStation>& stations,
                  const std::vector<FeatureId>& aligned) {
  return quality_of(provisional_plan(scene, stations, aligned)).worst_expanded.value_or(kNone);
}

TEST(ChooseAlignment, NoChoiceOfSoManyIsBetter) {
  int chosen = 0;
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    MadeScene scene = drawn_part(draw, 9, 1);
    scene.alignment.emplace();
    scene.alignment->choose = 6 + static_cast<int>(seed % 2);
    scene.alignment->form = 0.01;
    const auto stations = looked(scene);
    const AlignmentChoice choice = choose_alignment(scene, stations);
    const std::size_t take = choice.features.size();
    if (take == 0) continue;  // the drawn points do not hold it
    ++chosen;
    EXPECT_TRUE(choice.is_exhaustive);
    double least = kNone;
    for (std::uint32_t bits = 0; bits < 1u << 9; ++bits) {
      std::vector<FeatureId> some;
      for (std::uint32_t f = 0; f < 9; ++f)
        if ((bits >> f & 1u) != 0) some.emplace_back(f);
      if (some.size() <= static_cast<std::size_t>(*scene.alignment->choose))
        least = std::min(least, worst_with(scene, stations, some));
    }
    const double got = worst_with(scene, stations, choice.features);
    EXPECT_LE(got, least * (1 + 1.01 * tolerance::kSameUncertainty));
    EXPECT_NEAR(got, *choice.worst, 1e-9 * got);
    EXPECT_LE(*choice.worst_of_all, got * (1 + 1e-9));
  }
  EXPECT_GT(chosen, 15);
}

TEST(ChooseAlignment, WhereThereAreTooManyNoSingleExchangeIsBetter) {
  Draw draw(77);
  MadeScene scene = drawn_part(draw, 26, 1);
  scene.alignment.emplace();
  scene.alignment->choose = 7;
  const auto stations = looked(scene);
  const AlignmentChoice choice = choose_alignment(scene, stations);
  ASSERT_EQ(choice.features.size(), 7u);
  EXPECT_FALSE(choice.is_exhaustive);
  EXPECT_LE(*choice.worst_of_all, *choice.worst);
  for (std::size_t out = 0; out < choice.features.size(); ++out) {
    for (std::size_t in = 0; in < scene.features.size(); ++in) {
      std::vector<FeatureId> other = choice.features;
      if (std::find(other.begin(), other.end(), FeatureId(in)) != other.end()) continue;
      other[out] = FeatureId(in);
      EXPECT_GT(worst_with(scene, stations, other),
                *choice.worst * (1 - 1.01 * tolerance::kSameUncertainty));
    }
  }
}

TEST(ChooseAlignment, NoPlanIsBelowItsBoundWhicheverStationTakesWhat) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    MadeScene scene = drawn_part(draw, 10, 2);
    scene.alignment.emplace();
    scene.alignment->choose = 7;
    const auto stations = looked(scene);
    const AlignmentChoice choice = choose_alignment(scene, stations);
    if (!choice.worst_of_all) continue;
    for (int trial = 0; trial < 40; ++trial) {
      std::vector<FeatureId> some;
      for (std::size_t f = 0; f < scene.features.size(); ++f)
        if (draw.chance(0.8)) some.emplace_back(f);
      EXPECT_GE(worst_with(scene, stations, some), *choice.worst_of_all * (1 - 1e-9));
    }
  }
}

TEST(ChooseAlignment, TakesTheDrawingsDatumsWhereTheyHoldThePart) {
  Draw draw(5);
  MadeScene scene = drawn_part(draw, 16, 1);
  scene.alignment.emplace();
  scene.alignment->choose = 7;
  for (const std::size_t f : {1, 3, 4, 7, 8, 10, 12, 15}) scene.features[f].is_datum = true;
  const AlignmentChoice choice = choose_alignment(scene, looked(scene));
  ASSERT_EQ(choice.features.size(), 7u);
  for (const FeatureId feature : choice.features)
    EXPECT_TRUE(scene.features[feature.index].is_datum) << feature.index;
  // Three of them hold nothing: then any feature may be taken.
  for (const std::size_t f : {1, 3, 4, 7, 8}) scene.features[f].is_datum = false;
  EXPECT_EQ(choose_alignment(scene, looked(scene)).features.size(), 7u);
  // Unless the scene names them.
  for (const std::size_t f : {0, 2, 4, 6, 8, 10, 12, 14}) scene.alignment->from.emplace_back(f);
  for (const FeatureId feature : choose_alignment(scene, looked(scene)).features)
    EXPECT_EQ(feature.index % 2, 0u);
}

TEST(ChooseAlignment, PlansOfTheWholeProgramKeepToIt) {
  Draw draw(12);
  MadeScene scene = drawn_part(draw, 12, 2);
  scene.alignment.emplace();
  scene.alignment->choose = 7;
  const auto plan = make_plan(cell_of(scene));
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->alignment.features.size(), 7u);
  ASSERT_TRUE(plan->alignment.worst_at_least);
  double worst = 0;
  for (const PlannedFeature& planned : plan->features)
    worst = std::max(worst, planned.uncertainty->expanded);
  EXPECT_LE(*plan->alignment.worst_at_least, worst * (1 + 1e-9));
}

/// A wall between the two places; the alignment's points stand on the second place's side.
MadeScene walled_part() {
  MadeScene scene = bare_scene();
  scene.instrument.error = {2, {0.014, 7.5e-6}, {0.012, 0.9e-6}};
  scene.full_targets.push_back(ball_target());
  add_body(scene, "wall", box({-10, -1500, 0}, {10, 1500, 900}));
  const auto point = [&](const char* name, const Vec3& at, const Vec3& normal) {
    return add_feature(scene, name, PointFeature{at, normal});
  };
  point("near", {-600, 0, 400}, -Vec3::UnitX());
  scene.alignment.emplace();
  for (const auto& [at, normal] : {std::pair(Vec3(500, -400, 300), Vec3(1, 0, 1)),
                                   {Vec3(500, 400, 300), Vec3(1, 0, -0.2)},
                                   {Vec3(700, 0, 500), Vec3(1, -0.3, 0.4)},
                                   {Vec3(900, -300, 700), Vec3(1, -1, 0)},
                                   {Vec3(900, 350, 650), Vec3(1, 1, 0.3)},
                                   {Vec3(650, 100, 200), Vec3(1, 0.2, 1)},
                                   {Vec3(800, -150, 250), Vec3(1, 0.9, -0.1)}})
    scene.alignment->features.push_back(
        point(("d-" + std::to_string(scene.features.size())).c_str(), at, normal.normalized()));
  for (const Vec3& at :
       {Vec3(0, -2200, 1500), Vec3(0, 2300, 1700), Vec3(300, -1900, 2300), Vec3(-400, 2100, 2500)})
    add_nest(scene, "N" + std::to_string(scene.nests.size()), at);
  scene.fixed_stations = {{"west", {-4000, 0, 1300}}, {"east", {4000, 200, 1300}}};
  return scene;
}

TEST(Aligned, TheStationThatTakesTheAlignmentComesFirst) {
  const MadeScene scene = walled_part();
  const auto plan = make_plan(cell_of(scene));
  ASSERT_TRUE(plan);
  ASSERT_EQ(plan->stations.size(), 2u);
  EXPECT_EQ(plan->stations[0].name, "east");
  EXPECT_EQ(aligning_stations(*plan), std::vector<StationId>{StationId(0)});
  ASSERT_EQ(plan->links.size(), 1u);
  // What is taken from the other one bears the ties on top.
  const auto held = least_held(scene, *plan);
  ASSERT_TRUE(held);
  EXPECT_GT(held->expanded, 0);
}

TEST(Aligned, ExpectedResidualsAddUpToWhatIsRedundant) {
  for (const int points : {6, 9}) {
    SCOPED_TRACE(std::to_string(points) + " points");
    Draw draw(3);
    MadeScene scene = drawn_part(draw, points, 1);
    scene.nests.clear();  // what is left is held by the part alone
    scene.alignment.emplace();
    scene.alignment->form = 0.008;
    for (int f = 0; f < points; ++f) scene.alignment->features.emplace_back(f);
    const auto plan = make_plan(cell_of(scene));
    ASSERT_TRUE(plan);
    const std::vector<ExpectedResidual> residuals = expected_residuals(scene, *plan);
    const std::vector<AlignmentTouch> touches = plan_network(scene, *plan).input.alignment;
    ASSERT_EQ(residuals.size(), static_cast<std::size_t>(points));
    // Of least squares the weighted variances of all residuals add up to observations less
    // unknowns.
    double sum = 0;
    for (std::size_t i = 0; i < touches.size(); ++i) {
      const Vec3& held = touches[i].held[0];
      const double variance = held.dot(touches[i].covariance * held) + 0.008 * 0.008;
      sum += residuals[i].most * residuals[i].most / 4 / variance;
    }
    EXPECT_NEAR(sum, points - 6, 1e-6);
  }
}

TEST(Aligned, WhatTheFirstStationTakesAsWellIsTakenFromThere) {
  int elsewhere_by_margin = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    MadeScene scene = drawn_part(draw, 9, 2);
    scene.alignment.emplace();
    for (std::size_t f = 0; f < scene.features.size(); ++f)
      scene.alignment->features.emplace_back(f);
    add_body(scene, "wire", bar({-3500, -900, 1900}, {-3500, 900, 1900}, 4));
    const auto plan = make_plan(cell_of(scene));
    ASSERT_TRUE(plan);
    ASSERT_EQ(plan->stations.size(), 2u);
    for (const PlannedFeature& planned : plan->features) {
      const auto& here = plan->stations[0].sight.features[planned.feature.index];
      const auto& there = plan->stations[1].sight.features[planned.feature.index];
      if (here.verdict != planned.verdict) continue;
      EXPECT_EQ(planned.station, StationId(0)) << planned.feature.index;
      elsewhere_by_margin += there.verdict == here.verdict && there.margin > here.margin ? 1 : 0;
    }
  }
  EXPECT_GT(elsewhere_by_margin, 3);  // where the margin alone would have chosen otherwise
}

TEST(Aligned, WithoutAnAlignmentStationsKeepTheirOrder) {
  MadeScene scene = walled_part();
  scene.alignment.reset();
  std::reverse(scene.fixed_stations.begin(), scene.fixed_stations.end());
  const auto plan = make_plan(cell_of(scene));
  ASSERT_TRUE(plan);
  ASSERT_EQ(plan->stations.size(), 2u);
  EXPECT_EQ(plan->stations[0].name, "east");
}

TEST(Aligned, NoFiguresWhereWhatIsTakenLeavesThePartFree) {
  MadeScene scene = walled_part();
  // Six of the seven face the wall: no place sees them.
  for (std::size_t i = 1; i < 7; ++i)
    std::get<PointFeature>(scene.features[i].shape).normal = -Vec3::UnitX();
  const auto plan = make_plan(cell_of(scene));
  ASSERT_TRUE(plan);
  for (const PlannedFeature& planned : plan->features) EXPECT_FALSE(planned.uncertainty);
  EXPECT_TRUE(std::any_of(plan->warnings.begin(), plan->warnings.end(),
                          [](const Warning& w) { return w.kind == WarningKind::no_uncertainty; }));
}

}  // namespace
}  // namespace standpoint::test
