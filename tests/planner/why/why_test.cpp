// Why a beam breaks, and what cures it: causes on scenes with closed-form answers, and every cure
// claimed on random scenes tried again by the plain rules of reach.

#include <gtest/gtest.h>

#include "planner/reach/sight.h"
#include "planner/why/changed_cell.h"
#include "standpoint/why.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

using namespace test;

const Vec3 kStation(3000, 0, 1400);

/// A pad on a block at the origin, facing up, seen from +X over an aisle; the zone is round the
/// station.
MadeScene pad_scene() {
  MadeScene scene = bare_scene();
  scene.full_targets = {ball_target()};
  add_body(scene, "block", box({-200, -200, 600}, {200, 200, 1000}));
  add_feature(scene, "pad", PointFeature{{0, 0, 1000}, Vec3::UnitZ()});
  scene.zones = {
      {"aisle", 0, {{2000, -1500}, {4000, -1500}, {4000, 1500}, {2000, 1500}}, {1100, 2200}, 250}};
  return scene;
}

Diagnosis ask(const MadeScene& scene, const std::vector<OtherPlace>& places = {}) {
  const Cell cell = cell_of(scene);
  return diagnose(cell, FeatureId(0), kStation, places, CureSearch{}, Watch{});
}

const Cure* find(const Diagnosis& diagnosis, CureKind kind) {
  for (const Cure& cure : diagnosis.cures.cures) {
    if (cure.kind == kind) return &cure;
  }
  return nullptr;
}

TEST(Why, TellsAllBodiesInTheBeamNearestFirst) {
  MadeScene scene = pad_scene();
  add_body(scene, "far", wall({1000, -500}, {1000, 500}, 0, 3000, 20), BodyRole::surroundings);
  add_body(scene, "near", wall({2000, -500}, {2000, 500}, 0, 3000, 20), BodyRole::surroundings);
  const Diagnosis diagnosis = ask(scene);
  ASSERT_EQ(diagnosis.mark.verdict, Verdict::blocked);
  const auto& bodies = diagnosis.touches[0].causes[0].bodies;
  ASSERT_EQ(bodies.size(), 2u);
  EXPECT_EQ(scene.bodies[bodies[0].body.index].name, "near");
  EXPECT_EQ(scene.bodies[bodies[1].body.index].name, "far");
  EXPECT_TRUE(bodies[0].stops);
  EXPECT_LT(bodies[0].distance, bodies[1].distance);
}

TEST(Why, TellsAClippedRimFromAStoppedAxis) {
  MadeScene scene = pad_scene();
  // The beam runs in the plane y = 0; a wire beside it, 0.2 mm thick, 2.5 mm off the axis.
  add_body(scene, "wire", bar({1500, 2.5, 0}, {1500, 2.5, 3000}, 0.2), BodyRole::surroundings);
  const Diagnosis diagnosis = ask(scene);
  ASSERT_EQ(diagnosis.mark.verdict, Verdict::blocked);
  const auto& bodies = diagnosis.touches[0].causes[0].bodies;
  ASSERT_EQ(bodies.size(), 1u);
  EXPECT_FALSE(bodies[0].stops);
  EXPECT_NEAR(bodies[0].side.y(), 1, 0.01);
}

TEST(Why, SmallestRaiseIsWhereTheBeamPassesTheWall) {
  MadeScene scene = pad_scene();
  scene.zones[0].heights = {1100, 3000};
  // As wide as the zone: only up, or over the wall's end, which is out of reach.
  add_body(scene, "wall", wall({1500, -3000}, {1500, 3000}, 0, 1300, 20), BodyRole::surroundings);
  const Diagnosis diagnosis = ask(scene);
  const Cure* raise = find(diagnosis, CureKind::change_height);
  ASSERT_NE(raise, nullptr);
  // Brute force over millimetres with the plain rules.
  const Cell cell = cell_of(scene);
  double least = 0;
  for (double dz = 1; dz < 1600 && least == 0; ++dz) {
    const Vec3 at = kStation + dz * Vec3::UnitZ();
    if (judge_feature(cell, at, FeatureId(0)).verdict == Verdict::full_target) least = dz;
  }
  ASSERT_GT(least, 0);
  EXPECT_NEAR(raise->shift.z(), least, 1.01);
  EXPECT_EQ(find(diagnosis, CureKind::shift_station), nullptr);
}

TEST(Why, SmallestShiftIsNoLongerThanBruteForceFinds) {
  MadeScene scene = pad_scene();
  add_body(scene, "post", post(1500, 20, 0, 3000, 300), BodyRole::surroundings);
  const Diagnosis diagnosis = ask(scene);
  const Cure* shift = find(diagnosis, CureKind::shift_station);
  ASSERT_NE(shift, nullptr);
  const Cell cell = cell_of(scene);
  double least = 1e9;
  for (double x = -600; x <= 600; x += 10) {
    for (double y = -600; y <= 600; y += 10) {
      const double r = std::hypot(x, y);
      if (r >= least) continue;
      const Vec3 at = kStation + Vec3(x, y, 0);
      if (judge_feature(cell, at, FeatureId(0)).verdict != Verdict::blocked) least = r;
    }
  }
  ASSERT_LT(least, 1e9);
  // Directions are 22.5 degrees apart, so the way off may be longer by 1 / cos(11.25 degrees).
  EXPECT_LE(shift->shift.norm(), 1.03 * least + 1);
}

TEST(Why, FixtureIsMovedAsLittleAsItTakesOrTakenAway) {
  MadeScene scene = pad_scene();
  add_body(scene, "clamp", post(1500, 0, 0, 3000, 300), BodyRole::fixture);
  const Diagnosis diagnosis = ask(scene);
  const Cure* move = find(diagnosis, CureKind::move_body);
  ASSERT_NE(move, nullptr);
  // Straight aside: its radius and the beam's there, (6 + 0.2e-3 x 1500) / 2.
  EXPECT_NEAR(move->shift.norm(), 150 + 3.2, 5);
  ASSERT_NE(find(diagnosis, CureKind::remove_body), nullptr);
}

TEST(Why, NothingCuresAPadThatIsWalledIn) {
  MadeScene scene = pad_scene();
  add_body(scene, "hood", box({-400, -400, 500}, {400, 400, 1400}), BodyRole::surroundings);
  const Diagnosis diagnosis = ask(scene, {{{2500, 0, 1400}, "", false}});
  EXPECT_TRUE(diagnosis.cures.cures.empty());
  ASSERT_TRUE(diagnosis.cures.nearest_margin);
  EXPECT_LT(*diagnosis.cures.nearest_margin, 0);
}

TEST(Why, ClearBeamHoldsForEveryShiftThatIsProved) {
  MadeScene scene = pad_scene();
  add_body(scene, "post", post(1500, 200, 0, 3000, 300), BodyRole::surroundings);
  const Diagnosis diagnosis = ask(scene);
  ASSERT_EQ(diagnosis.mark.verdict, Verdict::full_target);
  ASSERT_TRUE(diagnosis.station_shift && diagnosis.station_shift->proved);
  const double proved = *diagnosis.station_shift->proved;
  EXPECT_GT(proved, 1);
  ASSERT_TRUE(diagnosis.station_shift->breaks);
  EXPECT_GE(diagnosis.station_shift->breaks->norm(), proved);
  const Cell cell = cell_of(scene);
  Draw draw(7);
  for (int i = 0; i < 500; ++i) {
    const Vec3 at = kStation + draw.between(0, proved) * draw.direction();
    EXPECT_EQ(judge_feature(cell, at, FeatureId(0)).verdict, Verdict::full_target) << i;
  }
}

/// The scene in which a cure claims to work.
Cell cured_cell(const MadeScene& scene, const Cure& cure) {
  const Cell cell = cell_of(scene);
  if (cure.kind == CureKind::move_body) return with_body_moved(cell, *cure.body, cure.shift);
  if (cure.kind == CureKind::remove_body) return without_body(cell, *cure.body);
  if (cure.kind == CureKind::other_target) return with_all_targets(cell, FeatureId(0));
  return cell;
}

TEST(Why, EveryCureHoldsOnRandomScenes) {
  int cures = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Draw draw(seed);
    MadeScene scene = pad_scene();
    if (draw.chance(0.5)) scene.offset_styli = {mirror_stylus()};
    add_feature(scene, "second", PointFeature{{150, 100, 1000}, Vec3::UnitZ()});
    for (int i = 0; i < 4; ++i) {
      const double x = draw.between(400, 2500), y = draw.between(-150, 150);
      add_body(scene, "post-" + std::to_string(i),
               post(x, y, 0, draw.between(1000, 2500), draw.between(20, 300)),
               draw.chance(0.5) ? BodyRole::fixture : BodyRole::surroundings);
    }
    const Diagnosis diagnosis = ask(scene, {{{3500, 1200, 1600}, "", false}});
    for (const Cure& cure : diagnosis.cures.cures) {
      const Cell cell = cured_cell(scene, cure);
      const Sight sight = look_from(cell, cure.station);
      EXPECT_LT(sight.features[0].verdict, diagnosis.mark.verdict);
      EXPECT_EQ(sight.features[0].verdict, cure.verdict);
      for (const Subject& lost : cure.effect.lost) {
        if (const auto* feature = std::get_if<FeatureId>(&lost)) {
          EXPECT_NE(sight.features[feature->index].verdict, Verdict::full_target);
        }
      }
      ++cures;
    }
  }
  EXPECT_GT(cures, 60);
}

}  // namespace
}  // namespace standpoint
