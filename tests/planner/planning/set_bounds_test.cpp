// The bounds of a set of stations against what the set comes to when all is looked at.

#include "planner/planning/set_bounds.h"

#include <cmath>
#include <optional>
#include <string>

#include <gtest/gtest.h>

#include "planner/planning/provisional_plan.h"
#include "planner/stations/candidates.h"
#include "standpoint/sight.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// Pads, bores and a plane for every target or for styli alone, nests all round.
MadeScene drawn_hall(Draw& draw) {
  MadeScene scene = bare_scene();
  scene.instrument.error = {2,
                            {draw.between(0.005, 0.03), draw.between(0, 2e-5)},
                            {draw.between(0.005, 0.03), draw.between(0, 2e-5)}};
  if (draw.chance(0.3)) scene.environment.nest_repeatability = draw.between(0, 0.02);
  if (draw.chance(0.2)) scene.environment.air_temperature_error = 1;
  scene.rules.stations_per_feature = draw.chance(0.3) ? 2 : 1;
  scene.full_targets = {ball_target()};
  scene.offset_styli = {mirror_stylus(), two_ball_stylus()};
  add_body(scene, "column",
           post(draw.between(-2500, 2500), draw.between(-2500, 2500), 0, 3000, 400));
  for (int i = 0; i < 4; ++i) {
    const Vec3 at = draw.in_box({-1500, -1500, 300}, {1500, 1500, 900});
    add_feature(scene, "pad-" + std::to_string(i), PointFeature{at, Vec3::UnitZ()});
    if (draw.chance(0.4)) scene.features.back().targets = {TargetId(2)};
    if (draw.chance(0.3)) scene.features.back().targets = {TargetId(1), TargetId(2)};
  }
  add_feature(scene, "bore",
              CylinderFeature{draw.in_box({-1000, -1000, 300}, {1000, 1000, 900}), Vec3::UnitX(),
                              draw.between(50, 200), 150, false});
  for (int i = 0; i < 7; ++i) {
    const double turn = i + draw.between(0, 0.8);
    scene.nests.push_back(
        {"N" + std::to_string(i),
         Vec3(4500 * std::cos(turn), 4500 * std::sin(turn), draw.between(200, 2500)), Vec3::UnitZ(),
         60 * kDeg});
  }
  for (int i = 0; i < 6; ++i) {
    scene.fixed_stations.push_back(
        {"P" + std::to_string(i), draw.in_box({-4000, -4000, 1200}, {4000, 4000, 1700})});
  }
  return scene;
}

TEST(SetBounds, AreBelowWhatEverySetComesTo) {
  double sum_far = 0, sum_near = 0;  // of bound / figure
  int sets = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    const Cell cell = cell_of(drawn_hall(draw));
    const std::vector<Candidate> candidates = generate_candidates(cell).kept;
    const ReachTable table = reach_all(cell, candidates, {});
    std::vector<PlannedStation> looks;
    for (const Candidate& candidate : candidates) {
      PlannedStation& station = looks.emplace_back();
      station.at = candidate.at;
      station.sight = look_from(cell, station.at);
    }
    SetBounds bounds(cell.scene(), candidates, table);
    for (int i = 0; i < 15; ++i) {
      std::vector<CandidateId> set;
      std::vector<PlannedStation> stations;
      for (std::size_t c = 0; c < candidates.size(); ++c) {
        if (!draw.chance(0.4)) continue;
        set.emplace_back(c);
        stations.push_back(looks[c]);
      }
      const auto worst = quality_of(provisional_plan(cell.scene(), stations)).worst_expanded;
      if (!worst) continue;
      const double far = bounds.of(set), near = bounds.in_network(set, stations);
      EXPECT_LE(far, *worst);
      EXPECT_LE(near, *worst);
      EXPECT_LE(far, near * (1 + 1e-9));
      sum_far += far / *worst;
      sum_near += near / *worst;
      ++sets;
    }
  }
  EXPECT_GT(sets, 200);
  EXPECT_GT(sum_near, 0.8 * sets);  // what the air and the way to hold a rod add is left
  EXPECT_GT(sum_near, sum_far);
}

}  // namespace
}  // namespace standpoint::test
