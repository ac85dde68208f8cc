// The station that would help most, against looking at all of every place.

#include "planner/planning/advice.h"

#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "planner/planning/provisional_plan.h"
#include "planner/stations/candidates.h"
#include "standpoint/plan.h"
#include "standpoint/sight.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// Pads between columns, some for a stylus alone, nests all round; the plan's stations are kept
/// ones, so that others may help.
MadeScene drawn_hall(Draw& draw) {
  MadeScene scene = bare_scene();
  scene.instrument.error = {2, {0.014, 7.5e-6}, {0.012, 0.9e-6}};
  if (draw.chance(0.3)) scene.environment.nest_repeatability = 0.01;
  scene.full_targets = {ball_target()};
  scene.offset_styli = {mirror_stylus(), two_ball_stylus()};
  for (int i = 0; i < 2; ++i) {
    add_body(scene, "column-" + std::to_string(i),
             post(draw.between(-2500, 2500), draw.between(-2500, 2500), 0, 3000, 300));
  }
  for (int i = 0; i < 5; ++i) {
    add_feature(scene, "pad-" + std::to_string(i),
                PointFeature{draw.in_box({-1500, -1500, 300}, {1500, 1500, 900}), Vec3::UnitZ()});
    if (draw.chance(0.3)) scene.features.back().targets = {TargetId(2)};
    if (draw.chance(0.3)) scene.features.back().targets = {TargetId(0), TargetId(2)};
  }
  if (draw.chance(0.1)) scene.datum = {"N0", "N1", "N2", "N3", "pad-0"};
  for (int i = 0; i < 6; ++i) {
    const double turn = i + draw.between(0, 1);
    scene.nests.push_back(
        {"N" + std::to_string(i),
         Vec3(4500 * std::cos(turn), 4500 * std::sin(turn), draw.between(200, 2500)), Vec3::UnitZ(),
         45 * kDeg});
  }
  for (int i = 0; i < 6; ++i) {
    scene.fixed_stations.push_back(
        {"P" + std::to_string(i), draw.in_box({-4000, -4000, 1200}, {4000, 4000, 1700}), i < 1});
  }
  return scene;
}

TEST(Advice, NamesTheStationThatHelpsMost) {
  int helped = 0, by_stylus = 0;
  for (std::uint64_t seed = 1; seed <= 25; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    const Cell cell = cell_of(drawn_hall(draw));
    const auto plan = make_plan(cell);
    ASSERT_TRUE(plan);
    const std::vector<Candidate> candidates = generate_candidates(cell).kept;
    const Advice advice = advise(cell, *plan, {}, candidates, {});
    if (!advice.worst_now) continue;
    double least = 0;
    for (const PlannedFeature& planned : plan->features)
      if (planned.uncertainty) least = std::max(least, planned.uncertainty->expanded);
    std::optional<Vec3> best;
    for (const Candidate& candidate : candidates) {
      if (std::any_of(plan->stations.begin(), plan->stations.end(),
                      [&](const PlannedStation& s) { return s.at == candidate.at; }))
        continue;
      std::vector<PlannedStation> stations = plan->stations;
      PlannedStation& added = stations.emplace_back();
      added.at = candidate.at;
      added.sight = look_from(cell, added.at);
      const auto worst =
          quality_of(provisional_plan(cell.scene(), std::move(stations))).worst_expanded;
      if (!worst || *worst >= least) continue;
      least = *worst;
      best = candidate.at;
    }
    ASSERT_EQ(advice.best_station.has_value(), best.has_value());
    if (!best) continue;
    EXPECT_EQ(advice.best_station->at, *best);
    EXPECT_EQ(advice.best_station->worst, least);
    ++helped;
    by_stylus += std::any_of(plan->features.begin(), plan->features.end(), [&](const auto& f) {
      return f.verdict == Verdict::offset_stylus && f.uncertainty &&
             f.uncertainty->expanded > least;
    });
  }
  EXPECT_GT(helped, 5);
  EXPECT_GT(by_stylus, 3);  // so that another stylus decides
}

}  // namespace
}  // namespace standpoint::test
