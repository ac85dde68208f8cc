// Cures in a plan, against plain sights; and how much room a stylus has, against distances that
// share nothing with the tree.

#include <cmath>

#include <CGAL/Simple_cartesian.h>
#include <CGAL/squared_distance_3.h>
#include <gtest/gtest.h>

#include "planner/reach/sight.h"
#include "planner/why/changed_cell.h"
#include "planner/why/held.h"
#include "standpoint/why.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

using namespace test;
using Kernel = CGAL::Simple_cartesian<double>;

const Vec3 kStation(3000, 0, 1400);

/// Nine pads on a block, posts between them and an aisle on +X.
MadeScene hall(Draw& draw) {
  MadeScene scene = bare_scene();
  scene.full_targets = {ball_target()};
  add_body(scene, "block", box({-200, -200, 600}, {200, 200, 1000}));
  add_feature(scene, "pad", PointFeature{{0, 0, 1000}, Vec3::UnitZ()});
  for (const double x : {-150.0, 150.0}) {
    for (const double y : {-150.0, -50.0, 60.0, 140.0})
      add_feature(scene, "more", PointFeature{{x, y, 1000}, Vec3::UnitZ()});
  }
  add_nest(scene, "N1", {0, 180, 1040});
  scene.zones = {
      {"aisle", 0, {{2000, -1500}, {4000, -1500}, {4000, 1500}, {2000, 1500}}, {1100, 2200}, 250}};
  for (int i = 0; i < 5; ++i) {
    const double x = draw.between(250, 2500), y = draw.between(-150, 150);
    add_body(scene, "post-" + std::to_string(i),
             post(x, y, 0, draw.between(1000, 2500), draw.between(20, 300)),
             draw.chance(0.5) ? BodyRole::fixture : BodyRole::surroundings);
  }
  return scene;
}

Diagnosis ask(const MadeScene& scene, const std::vector<OtherPlace>& places) {
  const Cell cell = cell_of(scene);
  return diagnose(cell, FeatureId(0), kStation, places, CureSearch{}, Watch{});
}

Cell cured_cell(const MadeScene& scene, const Cure& cure) {
  const Cell cell = cell_of(scene);
  if (cure.kind == CureKind::move_body) return with_body_moved(cell, *cure.body, cure.shift);
  if (cure.kind == CureKind::remove_body) return without_body(cell, *cure.body);
  return cell;
}

// ---- the plan ----

/// Verdicts of all features over all these places, and of the nest from the first alone.
std::vector<Verdict> over(const Cell& cell, const std::vector<Vec3>& places) {
  const std::size_t features = cell.scene().features.size();
  std::vector<Verdict> best(features + 1, Verdict::blocked);
  for (std::size_t p = 0; p < places.size(); ++p) {
    const Sight sight = look_from(cell, places[p]);
    for (std::size_t f = 0; f < features; ++f)
      best[f] = std::min(best[f], sight.features[f].verdict);
    if (p == 0) best[features] = sight.nests[0].mark.verdict;
  }
  return best;
}

std::size_t count_better(const std::vector<Verdict>& from, const std::vector<Verdict>& to) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < from.size(); ++i) count += to[i] < from[i] ? 1 : 0;
  return count;
}

TEST(WhyInPlan, EffectsAreThoseOfTheWholePlanOnRandomScenes) {
  int compared = 0, saved = 0, added = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Draw draw(seed);
    const MadeScene scene = hall(draw);
    const Vec3 other(draw.between(2000, 4000), draw.between(-1400, 1400), 1600);
    const std::vector<Vec3> plan{kStation, other};
    const Vec3 spare(draw.between(2000, 4000), draw.between(-1400, 1400), 2000);
    const Diagnosis diagnosis = ask(scene, {{other, "S2", true}, {spare, "", false}});
    for (const Cure& cure : diagnosis.cures.cures) {
      if (cure.kind == CureKind::add_station) {
        // The station asked about stays, so nothing can be lost; nests count over all.
        auto before = over(cell_of(scene), plan),
             after = over(cell_of(scene), {kStation, other, spare});
        for (const Vec3& at : {other, spare}) {
          const Verdict nest = over(cell_of(scene), {at}).back();
          after.back() = std::min(after.back(), nest);
          if (at == other) before.back() = std::min(before.back(), nest);
        }
        EXPECT_EQ(cure.effect.gained.size(), count_better(before, after));
        EXPECT_TRUE(cure.effect.lost.empty());
        ++added;
        continue;
      }
      if (cure.kind == CureKind::planned_station) {
        EXPECT_TRUE(cure.effect.gained.empty() && cure.effect.lost.empty());
        continue;
      }
      const Cell changed = cured_cell(scene, cure);
      const auto before = over(cell_of(scene), plan), after = over(changed, {cure.station, other});
      EXPECT_EQ(cure.effect.gained.size(), count_better(before, after));
      EXPECT_EQ(cure.effect.lost.size(), count_better(after, before));
      ++compared;
      // What the station alone would have lost.
      saved += count_better(over(changed, {cure.station}), over(cell_of(scene), {kStation})) >
                       cure.effect.lost.size()
                   ? 1
                   : 0;
    }
  }
  EXPECT_GT(compared, 40);
  EXPECT_GT(saved, 0);  // the plan made a difference
  EXPECT_GT(added, 10);
}

/// A pad behind a wall; it is seen from the places on +Y, which are seen by nothing else.
TEST(WhyInPlan, ItsOtherStationsComeFirstTheBestOfThemBeforeTheRest) {
  Draw draw(1);
  MadeScene scene = hall(draw);
  scene.bodies.resize(1);
  scene.meshes.resize(1);
  scene.offset_styli = {mirror_stylus()};
  add_body(scene, "wall", wall({1000, -1600}, {1000, 1600}, 0, 4000, 20), BodyRole::surroundings);
  // From straight above the ball cannot be rolled so far, but a mirror sees it.
  const Vec3 near(0, 2500, 1500), far(0, 4000, 1500), behind(5000, 0, 1500);
  const Diagnosis diagnosis = ask(scene, {{far, "S3", true},
                                          {{200, 2000, 1500}, "spare", false},
                                          {behind, "S4", true},
                                          {near, "S2", true},
                                          {kStation, "S1", true}});
  ASSERT_EQ(diagnosis.mark.verdict, Verdict::blocked);
  std::vector<std::string> planned;
  double margin = HUGE_VAL;
  for (const Cure& cure : diagnosis.cures.cures) {
    if (cure.kind != CureKind::planned_station) break;
    planned.push_back(cure.name);
    EXPECT_EQ(cure.verdict, Verdict::full_target);
    EXPECT_LE(*cure.margin, margin);
    margin = *cure.margin;
  }
  ASSERT_EQ(planned.size(), 2u);
  EXPECT_TRUE((planned == std::vector<std::string>{"S2", "S3"} ||
               planned == std::vector<std::string>{"S3", "S2"}));
  const Cure& last = diagnosis.cures.cures.back();
  EXPECT_EQ(last.kind, CureKind::add_station);
  EXPECT_EQ(last.name, "spare");
}

// ---- room of a stylus ----

/// Least distance from an axis with a linearly growing radius to any triangle, less the radius;
/// golden section on CGAL's distances (convex along the axis).
double room_of(const Meshes& meshes, const Vec3& from, const Vec3& to, double start_radius,
               double end_radius) {
  double least = HUGE_VAL;
  for (const auto& mesh : meshes) {
    for (const auto& corners : mesh->triangles) {
      const auto corner = [&](int k) {
        const Vec3& v = mesh->vertices[corners[static_cast<std::size_t>(k)]];
        return Kernel::Point_3(v.x(), v.y(), v.z());
      };
      const Kernel::Triangle_3 triangle(corner(0), corner(1), corner(2));
      const auto value = [&](double t) {
        const Vec3 p = from + t * (to - from);
        return std::sqrt(CGAL::squared_distance(Kernel::Point_3(p.x(), p.y(), p.z()), triangle)) -
               (start_radius + t * (end_radius - start_radius));
      };
      const double share = (std::sqrt(5.0) - 1) / 2;
      double low = 0, high = 1;
      for (int i = 0; i < 80; ++i) {
        const double a = high - share * (high - low), b = low + share * (high - low);
        (value(a) < value(b) ? high : low) = value(a) < value(b) ? b : a;
      }
      least = std::min({least, value((low + high) / 2), value(0), value(1)});
    }
  }
  return least;
}

struct Room {
  double shank = HUGE_VAL, head = HUGE_VAL;
};

/// By contract section 3, from the tip's centre.
Room brute_force(const Meshes& meshes, const OffsetStylus& stylus, const Vec3& tip, const Vec3& s) {
  Room room;
  const auto take_shank = [&](const Shank& shank, double length) {
    if (shank.radius <= shank.tip_radius) {
      room.shank =
          room_of(meshes, tip + shank.tip_radius * s, tip + length * s, shank.radius, shank.radius);
      return;
    }
    room.shank = std::min(
        room_of(meshes, tip, tip + shank.taper * s, shank.tip_radius, shank.radius),
        room_of(meshes, tip + shank.taper * s, tip + length * s, shank.radius, shank.radius));
  };
  const auto take_head = [&](double at, double radius) {
    const Vec3 centre = tip + at * s;
    room.head = std::min(room.head, room_of(meshes, centre, centre, radius, radius));
  };
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus)) {
    take_shank(mirror->shank, mirror->length);
    take_head(mirror->length, mirror->head_radius);
  } else {
    const auto& rod = std::get<TwoBallStylus>(stylus);
    take_shank(rod.shank, rod.ball_distances[1]);
    for (const double at : rod.ball_distances) take_head(at, rod.ball_radius);
  }
  return room;
}

std::vector<OffsetStylus> styli() {
  MirrorStylus pointed = mirror_stylus("pointed");
  pointed.shank = {0, 3, 20};
  return {mirror_stylus(), pointed, two_ball_stylus()};
}

TEST(StylusRoom, OfEveryCureIsThatOfBruteForce) {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Draw draw(seed);
    MadeScene scene = hall(draw);
    scene.full_targets.clear();
    const OffsetStylus stylus = styli()[seed % 3];
    scene.offset_styli = {stylus};
    const Vec3 other(draw.between(2000, 4000), draw.between(-1400, 1400), 1600);
    const Diagnosis diagnosis = ask(scene, {{other, "S2", true}});
    for (const Cure& cure : diagnosis.cures.cures) {
      ASSERT_TRUE(cure.shank_direction && cure.shank_clearance && cure.head_clearance);
      const double tip_radius =
          std::visit([](const auto& s) { return s.shank.tip_radius; }, stylus);
      const Room room = brute_force(cured_cell(scene, cure).meshes(), stylus,
                                    Vec3(0, 0, 1000 + tip_radius), *cure.shank_direction);
      EXPECT_NEAR(*cure.shank_clearance, room.shank, 1e-6);
      EXPECT_NEAR(*cure.head_clearance, room.head, 1e-6);
      ++compared;
    }
  }
  EXPECT_GT(compared, 20);
}

TEST(StylusRoom, IsThatOfTheWholeLengthOfARod) {
  // Nothing under the tip, so that what is near the rod's far end decides.
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Draw draw(seed);
    MadeScene scene = hall(draw);
    scene.bodies.clear();
    scene.meshes.clear();
    scene.full_targets.clear();
    scene.offset_styli = {two_ball_stylus()};
    for (int i = 0; i < 4; ++i) {
      const double x = draw.between(-300, 300), y = draw.between(-300, 300);
      add_body(scene, "above", post(x, y, 1230, 1500, 20));
      add_body(scene, "below", post(y, x, 500, 770, 20));
    }
    const Cell cell = cell_of(scene);
    const SubjectMark mark = SubjectReach(cell, FeatureId(0)).mark(kStation);
    const auto held = tightest_held(cell, mark);
    if (!held) continue;
    const Room room =
        brute_force(scene.meshes, scene.offset_styli[0], Vec3(0, 0, 1003), held->direction);
    EXPECT_NEAR(held->shank_clearance, room.shank, 1e-6);
    EXPECT_NEAR(held->head_clearance, room.head, 1e-6);
    ++compared;
  }
  EXPECT_GT(compared, 10);
}

TEST(StylusRoom, OfSeveralTouchesTheTightestIsTold) {
  Draw draw(3);
  MadeScene scene = hall(draw);
  scene.bodies.resize(1);
  scene.meshes.resize(1);
  scene.full_targets.clear();
  scene.offset_styli = {mirror_stylus()};
  scene.features[0].shape = PlaneFeature{
      {{-150, -150, 1000}, {150, -150, 1000}, {150, 150, 1000}, {-150, 150, 1000}}, Vec3::UnitZ()};
  // Beside the last touch the head comes near a post.
  add_body(scene, "post", post(-70, 215, 0, 1300, 60));
  const Cell cell = cell_of(scene);
  const SubjectMark mark = SubjectReach(cell, FeatureId(0)).mark(kStation);
  ASSERT_EQ(mark.verdict, Verdict::offset_stylus);
  const auto held = tightest_held(cell, mark);
  ASSERT_TRUE(held);
  double least = HUGE_VAL;
  std::size_t reached = 0;
  for (std::size_t i = 0; i < mark.touches.size(); ++i) {
    if (!mark.by_target[i]) continue;
    const Room room =
        brute_force(scene.meshes, scene.offset_styli[0], mark.touches[i].at + 3 * Vec3::UnitZ(),
                    *mark.by_target[i]->shank_direction);
    least = std::min({least, room.shank, room.head});
    ++reached;
  }
  EXPECT_GE(reached, 3u);
  EXPECT_NEAR(std::min(held->shank_clearance, held->head_clearance), least, 1e-6);
}

TEST(StylusRoom, AFullTargetHasNone) {
  Draw draw(4);
  MadeScene scene = hall(draw);
  scene.bodies.resize(1);
  scene.meshes.resize(1);
  const Cell cell = cell_of(scene);
  const SubjectMark mark = SubjectReach(cell, FeatureId(0)).mark(kStation);
  ASSERT_EQ(mark.verdict, Verdict::full_target);
  EXPECT_FALSE(tightest_held(cell, mark));
}

}  // namespace
}  // namespace standpoint
