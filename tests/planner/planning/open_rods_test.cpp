// Rods asked for later: the choice of stations is that of the table with everything asked for.

#include "planner/planning/open_rods.h"

#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "planner/planning/station_choice.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// Pads for mirror and rod, each with stubs beside it that hide the mirror from some sides, some
/// under a lid that hides everything, and columns in the hall.
MadeScene drawn_hall(Draw& draw) {
  MadeScene scene = bare_scene();
  if (draw.chance(0.5)) scene.instrument.error = {2, {0.014, 7.5e-6}, {0.012, 0.9e-6}};
  scene.rules.stations_per_feature = draw.chance(0.3) ? 2 : 1;
  scene.full_targets = {ball_target()};
  scene.offset_styli = {mirror_stylus(), two_ball_stylus()};
  if (draw.chance(0.3)) std::swap(scene.offset_styli[0], scene.offset_styli[1]);
  if (draw.chance(0.5))
    add_body(scene, "column",
             post(draw.between(-2500, 2500), draw.between(-2500, 2500), 0, 3000, 400));
  for (int i = 0; i < 5; ++i) {
    const Vec3 at = draw.in_box({-1500, -1500, 300}, {1500, 1500, 900});
    add_feature(scene, "pad-" + std::to_string(i), PointFeature{at, Vec3::UnitZ()});
    Feature& pad = scene.features.back();
    if (draw.chance(0.7)) pad.targets = {TargetId(1), TargetId(2)};
    pad.required = draw.chance(0.9);
    for (int side = 0; side < 3; ++side) {
      const double turn = draw.between(0, 6.28);
      add_body(scene, pad.name + "-stub-" + std::to_string(side),
               post(at.x() + 90 * std::cos(turn), at.y() + 90 * std::sin(turn), at.z() - 50,
                    at.z() + draw.between(20, 160), 90));
    }
    if (draw.chance(0.1))
      add_body(scene, pad.name + "-lid", post(at.x(), at.y(), at.z() + 60, at.z() + 80, 600));
  }
  for (int i = 0; i < 6; ++i) {
    const double turn = draw.between(0, 6.28);
    scene.nests.push_back(
        {"N" + std::to_string(i),
         Vec3(4500 * std::cos(turn), 4500 * std::sin(turn), draw.between(200, 2500)), Vec3::UnitZ(),
         45 * kDeg});
  }
  for (int i = 0; i < 8; ++i) {
    scene.fixed_stations.push_back({"P" + std::to_string(i),
                                    draw.in_box({-4000, -4000, 1200}, {4000, 4000, 1700}),
                                    draw.chance(0.05)});
  }
  return scene;
}

/// Compares what is known of the later table with the whole one; how much is left open.
std::size_t compare_tables(const ReachTable& later, const ReachTable& whole) {
  std::size_t open = 0;
  for (std::size_t c = 0; c < whole.candidate_count(); ++c) {
    for (std::size_t f = 0; f < whole.feature_count(); ++f) {
      const CandidateId candidate(c);
      const FeatureId feature(f);
      EXPECT_FALSE(whole.is_open(candidate, feature));
      if (later.is_open(candidate, feature)) {
        ++open;
        EXPECT_NE(whole.feature(candidate, feature), Verdict::full_target);
      } else {
        EXPECT_EQ(later.feature(candidate, feature), whole.feature(candidate, feature));
      }
      if (whole.feature(candidate, feature) != Verdict::blocked)
        EXPECT_LE(later.first_target(candidate, feature), whole.first_target(candidate, feature));
    }
  }
  return open;
}

TEST(OpenRods, LeaveTheChoiceAsItIsWithAllAsked) {
  std::size_t open = 0, asked = 0, lost = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    const Cell cell = cell_of(drawn_hall(draw));
    const auto later = choose_stations(cell, {}, Rods::later);
    const auto whole = choose_stations(cell, {}, Rods::at_once);
    ASSERT_TRUE(later && whole);
    EXPECT_EQ(later->cover.covered, whole->cover.covered);
    EXPECT_EQ(later->cover.cost, whole->cover.cost);
    EXPECT_EQ(later->cover.full_rows, whole->cover.full_rows);
    EXPECT_EQ(later->cover.lower_bound, whole->cover.lower_bound);
    EXPECT_EQ(later->cover.status, whole->cover.status);
    EXPECT_EQ(later->chosen, whole->chosen);
    EXPECT_EQ(later->later.is_all, whole->later.is_all);
    EXPECT_EQ(later->later.judged, whole->later.judged);
    EXPECT_EQ(later->later.worst_at_least, whole->later.worst_at_least);
    open += compare_tables(later->table, whole->table);
    const ReachTable first = reach_all(cell, later->candidates.kept, {}, Rods::later);
    for (std::size_t c = 0; c < first.candidate_count(); ++c) {
      for (std::size_t f = 0; f < first.feature_count(); ++f) {
        const CandidateId candidate(c);
        const FeatureId feature(f);
        if (!first.is_open(candidate, feature) || later->table.is_open(candidate, feature))
          continue;
        ++asked;
        lost += later->table.feature(candidate, feature) == Verdict::blocked;
      }
    }
  }
  EXPECT_GT(open, 100u);
  EXPECT_GT(asked, 100u);
  EXPECT_GT(lost, 20u);
}

TEST(OpenRods, AskForEachCellAsTheWholeTableDoes) {
  for (std::uint64_t seed = 101; seed <= 115; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    const Cell cell = cell_of(drawn_hall(draw));
    const std::vector<Candidate> candidates = generate_candidates(cell).kept;
    ReachTable later = reach_all(cell, candidates, {}, Rods::later);
    ask_open(cell, candidates, all_cells(later), {}, later);
    EXPECT_EQ(compare_tables(later, reach_all(cell, candidates, {})), 0u);
  }
}

}  // namespace
}  // namespace standpoint::test
