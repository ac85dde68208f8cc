// The later aims: the choice among equal sets of stations, against judging every set.

#include "planner/planning/improve.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>

#include <gtest/gtest.h>

#include "planner/model/tolerances.h"
#include "planner/planning/aims.h"
#include "planner/planning/station_choice.h"
#include "planner/planning/station_cover.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// Pads in a hall with columns, nests all round, places drawn; everything can be permuted.
MadeScene drawn_hall(Draw& draw) {
  MadeScene scene = bare_scene();
  // Without figures the margin decides; without columns nothing does, and places come first.
  scene.instrument.error = {};
  if (draw.chance(0.5)) scene.instrument.error = {2, {0.014, 7.5e-6}, {0.012, 0.9e-6}};
  scene.rules.stations_per_feature = draw.chance(0.5) ? 2 : 1;
  const int columns = draw.chance(0.7) ? 3 : 0;
  scene.full_targets.push_back(ball_target());
  for (int i = 0; i < columns; ++i) {
    add_body(scene, "column-" + std::to_string(i),
             post(draw.between(-2500, 2500), draw.between(-2500, 2500), 0, 3000, 300));
  }
  for (int i = 0; i < 5; ++i) {
    add_feature(scene, "pad-" + std::to_string(i),
                PointFeature{draw.in_box({-1500, -1500, 300}, {1500, 1500, 900}), Vec3::UnitZ()});
  }
  for (int i = 0; i < 6; ++i) {
    const double turn = draw.between(0, 6.28);
    scene.nests.push_back(
        {"N" + std::to_string(i),
         Vec3(4500 * std::cos(turn), 4500 * std::sin(turn), draw.between(200, 2500)), Vec3::UnitZ(),
         45 * kDeg});
  }
  for (int i = 0; i < 9; ++i) {
    scene.fixed_stations.push_back(
        {"P" + std::to_string(i), draw.in_box({-4000, -4000, 1200}, {4000, 4000, 1700})});
  }
  return scene;
}

/// The same with a mirror and a rod, and pads for them alone.
MadeScene with_styli(MadeScene scene, Draw& draw) {
  scene.offset_styli = {mirror_stylus(), two_ball_stylus()};
  for (Feature& feature : scene.features) {
    if (draw.chance(0.4)) feature.targets = {TargetId(2)};
    if (draw.chance(0.2)) feature.targets = {TargetId(1), TargetId(2)};
  }
  return scene;
}

/// The cell's candidates, looked from in full where somebody asks.
class Looks {
 public:
  Looks(const Cell& cell, const std::vector<Candidate>& candidates)
      : cell_(cell), candidates_(candidates), sights_(candidates.size()) {}

  Quality quality(const std::vector<CandidateId>& set) {
    std::vector<PlannedStation> stations;
    for (const CandidateId c : set) {
      PlannedStation& station = stations.emplace_back();
      station.at = candidates_[c.index].at;
      auto& sight = sights_[c.index];
      if (!sight) sight = look_from(cell_, station.at);
      station.sight = *sight;
    }
    return quality_of(provisional_plan(cell_.scene(), std::move(stations)));
  }

 private:
  const Cell& cell_;
  const std::vector<Candidate>& candidates_;
  std::vector<std::optional<Sight>> sights_;
};

/// Sets of as many stations as the choice, equal in the aims before; each with its quality.
std::vector<std::pair<std::vector<CandidateId>, Quality>> all_equal(const Cell& cell,
                                                                    const StationChoice& choice,
                                                                    Looks& looks) {
  std::vector<std::pair<std::vector<CandidateId>, Quality>> all;
  const std::vector<Candidate>& candidates = choice.candidates.kept;
  // The choice's own table may leave open what it does not rest on.
  const ReachTable table = reach_all(cell, candidates, {});
  const AimCount aims = count_aims(cell.scene(), candidates, table, choice.chosen);
  for (std::uint32_t bits = 1; bits < 1u << candidates.size(); ++bits) {
    std::vector<CandidateId> set;
    for (std::size_t c = 0; c < candidates.size(); ++c)
      if ((bits >> c & 1u) != 0) set.emplace_back(c);
    if (set.size() != choice.chosen.size()) continue;
    if (count_aims(cell.scene(), candidates, table, set) != aims) continue;
    if (choice.ties.are_asked() && !is_connected(choice.ties, set)) continue;
    all.emplace_back(set, looks.quality(set));
  }
  return all;
}

TEST(LaterAims, AreThoseOfTheBestOfAllEqualSets) {
  int several = 0, many = 0, left_out = 0;
  for (std::uint64_t seed = 1; seed <= 75; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    MadeScene scene = drawn_hall(draw);
    if (seed > 60) scene = with_styli(std::move(scene), draw);
    const Cell cell = cell_of(std::move(scene));
    const auto choice = choose_stations(cell, {});
    ASSERT_TRUE(choice);
    if (choice->chosen.empty()) continue;
    EXPECT_TRUE(choice->later.is_all);
    Looks looks(cell, choice->candidates.kept);
    const auto all = all_equal(cell, *choice, looks);
    double least = INFINITY, most = -INFINITY;
    for (const auto& [set, quality] : all)
      least = std::min(least, quality.worst_expanded.value_or(INFINITY));
    const auto is_least = [&](const Quality& quality) {
      return std::isinf(least) ||
             quality.worst_expanded.value_or(INFINITY) * (1 - tolerance::kSameUncertainty) <= least;
    };
    for (const auto& [set, quality] : all)
      if (is_least(quality)) most = std::max(most, quality.least_margin);
    const Quality found = looks.quality(choice->chosen);
    EXPECT_TRUE(is_least(found));
    EXPECT_GE(found.least_margin, most - tolerance::kSameMargin);
    if (std::isfinite(least)) {
      ASSERT_TRUE(choice->later.worst_at_least);
      EXPECT_LE(*choice->later.worst_at_least, least);
    }
    several += all.size() > 3 ? 1 : 0;
    many += all.size() > 16 ? 1 : 0;  // more than are judged at once
    left_out += choice->later.judged < static_cast<int>(all.size()) ? 1 : 0;
  }
  EXPECT_GT(several, 20);
  EXPECT_GT(many, 5);
  EXPECT_GT(left_out, 10);  // by their bounds
}

using Places = std::set<std::array<double, 3>>;

Places places_of(const Plan& plan) {
  Places places;
  for (const PlannedStation& station : plan.stations)
    places.insert({station.at.x(), station.at.y(), station.at.z()});
  return places;
}

/// The places that the solver chooses, before anything is improved.
Places first_choice(const Cell& cell) {
  const std::vector<Candidate> candidates = generate_candidates(cell).kept;
  ReachTable table = reach_all(cell, candidates, {});
  const Ties ties(cell.scene(), table);
  Places places;
  for (const std::uint32_t c : solve_stations(cell, candidates, ties, {}, table).columns)
    places.insert({candidates[c].at.x(), candidates[c].at.y(), candidates[c].at.z()});
  return places;
}

TEST(StationCover, AsksTheSolverTheSameWhateverTheOrderOfTheScenesLists) {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    MadeScene scene = drawn_hall(draw);
    const Places before = first_choice(cell_of(scene));
    draw.shuffle(scene.fixed_stations);
    draw.shuffle(scene.features);
    draw.shuffle(scene.nests);
    EXPECT_EQ(first_choice(cell_of(scene)), before);
  }
}

TEST(LaterAims, DoNotDependOnTheOrderOfTheScenesLists) {
  for (std::uint64_t seed = 1; seed <= 25; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    MadeScene scene = drawn_hall(draw);
    const auto before = make_plan(cell_of(scene));
    draw.shuffle(scene.fixed_stations);
    draw.shuffle(scene.features);
    draw.shuffle(scene.nests);
    const auto after = make_plan(cell_of(scene));
    ASSERT_TRUE(before && after);
    EXPECT_EQ(places_of(*before), places_of(*after));
  }
}

}  // namespace
}  // namespace standpoint::test
