// The search over a stylus's directions leaves patches out whole. Leaving out must change no
// answer: here it is held against asking every finest direction by itself, and its parts against
// their definitions.

#include <gtest/gtest.h>

#include <cmath>

#include "planner/reach/shadow.h"
#include "planner/reach/shank_room.h"
#include "planner/reach/two_ball_view.h"
#include "reach_probe.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

/// A place near the part where a stylus is held: on a feature or in a nest.
Place random_place(const Scene& scene, Draw& draw, double radius) {
  for (;;) {
    if (draw.chance(0.2)) return place_of(scene.nests[draw.below(scene.nests.size())]);
    const Feature& feature = scene.features[draw.below(scene.features.size())];
    const auto sets = touch_sets(feature, radius, scene.rules);
    if (sets.empty()) continue;
    const TouchSet& set = sets[draw.below(sets.size())];
    return place_of(set.touches[draw.below(set.touches.size())]);
  }
}

ShankRoom room_of(const Cell& cell, const TwoBallStylus& rod, const Vec3& tip) {
  return {cell,
          tip,
          rod.shank,
          rod.ball_distances[1],
          {rod.ball_distances[0], rod.ball_distances[1]},
          rod.ball_radius};
}

TEST(DirectionSearch, RoomDecidedByPatchesIsRoomDecidedOneByOne) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    Draw draw(seed);
    const Scene scene = random_scene(draw, {1, 8});
    const Cell cell(scene);
    const auto& rod = std::get<TwoBallStylus>(scene.offset_styli.back());
    const Place place = random_place(scene, draw, rod.shank.tip_radius);
    ShankRoom room = room_of(cell, rod, place.optical_centre);
    ShankRoom plain = room_of(cell, rod, place.optical_centre);
    for (std::uint32_t k = 0; k < DirectionPatch::kFinestCount; ++k) {
      // Asked in leaps, so that patches are met from their middles too.
      const std::uint32_t index = k * 7919 % DirectionPatch::kFinestCount;
      ASSERT_EQ(room.is_free(index), plain.is_free(finest_directions()[index]))
          << "seed " << seed << ", direction " << index;
    }
    for (int level = 0; level < DirectionPatch::kFinestLevel; ++level) {
      for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); ++k) {
        if (!room.is_all_blocked(DirectionPatch::of_index(level, k))) continue;
        const std::uint32_t inside = draw.below(1u << (12 - 2 * level)) & 0xfff;
        DirectionPatch finest = DirectionPatch::of_index(level, k);
        for (int l = level; l < DirectionPatch::kFinestLevel; ++l) {
          finest = finest.child(static_cast<int>(inside >> (2 * l) & 3));
        }
        ASSERT_FALSE(room.is_free(finest.index())) << "seed " << seed;
      }
    }
  }
}

TEST(DirectionSearch, TwoBallVerdictIsThatOfAskingEveryDirection) {
  int reached_count = 0, blocked_count = 0;
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    Draw draw(seed);
    const Scene scene = random_scene(draw, {1, 14});
    const Cell cell(scene);
    const auto& rod = std::get<TwoBallStylus>(scene.offset_styli.back());
    const TargetId target(target_count(scene) - 1);
    const Place place = random_place(scene, draw, rod.shank.tip_radius);
    TwoBallStylusAt at(cell, target, place);
    ShankRoom room = room_of(cell, rod, place.optical_centre);
    for (int i = 0; i < 3; ++i) {
      const Vec3 station = random_station(draw);
      const TwoBallView view(scene.instrument, rod, place.optical_centre, station);
      bool expected = false;
      const bool fits =
          place.is_nest || !fit_fails(cell, place.optical_centre, rod.shank.tip_radius);
      for (const Vec3& s : finest_directions()) {
        if (expected || !fits) break;
        expected = !view.rule_that_fails(s) && room.is_free(s) &&
                   cell.tree().is_clear(view.beam(0, s), scene.rules.min_margin) &&
                   cell.tree().is_clear(view.beam(1, s), scene.rules.min_margin);
      }
      ASSERT_EQ(at.reaches(station), expected) << "seed " << seed << ", station " << i;
      (expected ? reached_count : blocked_count) += 1;
    }
  }
  EXPECT_GT(reached_count, 100);
  EXPECT_GT(blocked_count, 60);
}

TEST(DirectionSearch, APatchThatIsRuledOutHoldsNoDirectionThatPasses) {
  int ruled_out = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Draw draw(seed);
    Instrument made = instrument();
    made.range = {draw.between(100, 1500), draw.between(1500, 4000)};
    made.elevation_rad = {draw.between(-60, 0) * kDeg, draw.between(0, 60) * kDeg};
    TwoBallStylus rod = two_ball_stylus();
    rod.acceptance_rad = draw.between(0, 60) * kDeg;
    const TwoBallView view(made, rod, Vec3::Zero(), random_station(draw));
    for (int level = 1; level <= 4; ++level) {
      for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); ++k) {
        const DirectionPatch patch = DirectionPatch::of_index(level, k);
        if (view.may_pass(patch)) continue;
        ++ruled_out;
        for (int i = 0; i < 6; ++i) {
          Vec3 s = Vec3::Zero();
          for (const Vec3& corner : patch.corners()) s += draw.between(0, 1) * corner;
          ASSERT_TRUE(view.rule_that_fails(s.normalized())) << "seed " << seed << ", patch " << k;
        }
      }
    }
  }
  EXPECT_GT(ruled_out, 5000);
}

TEST(Shadow, HoldsOnlyPointsBehindTheTriangle) {
  // Axes to random points of the hull cross the triangle wherever the bundle is held.
  int held = 0;
  for (std::uint64_t seed = 1; seed <= 4000; ++seed) {
    Draw draw(seed);
    const Vec3 station = draw.in_box(Vec3::Constant(-1000), Vec3::Constant(1000));
    const Vec3 middle = station + draw.between(500, 3000) * draw.direction();
    BeamBundle bundle{{}, middle};
    const double size = draw.between(1, 200);
    for (Vec3& corner : bundle.hull) {
      corner = middle + draw.in_box(Vec3::Constant(-size), Vec3::Constant(size));
    }
    const Vec3 at = station + draw.between(0.1, 1.1) * (middle - station);
    std::array<Vec3, 3> triangle;
    for (Vec3& corner : triangle) {
      corner = at + draw.in_box(Vec3::Constant(-900), Vec3::Constant(900));
    }
    if (draw.chance(0.02)) triangle[1] = triangle[0];  // a needle hides nothing
    if (draw.chance(0.02)) {                           // nor one seen edge-on
      triangle[0] = station + 0.1 * (middle - station);
      triangle[1] = station + 0.9 * (middle - station);
    }
    if (!Shadow(triangle, station).holds(bundle)) continue;
    ++held;
    for (int i = 0; i < 20; ++i) {
      Vec3 point = Vec3::Zero();
      double weights = 0;
      for (const Vec3& corner : bundle.hull) {
        const double w = draw.between(0, 1) * draw.between(0, 1);
        point += w * corner;
        weights += w;
      }
      const RoundCone axis = RoundCone::capsule(station, point / weights, 0);
      ASSERT_NEAR(nearest_on_triangle(axis, triangle).margin, 0, 1e-9) << "seed " << seed;
    }
  }
  EXPECT_GT(held, 100);
}

TEST(Shadow, HoldsWhatALargeTriangleInFrontHides) {
  const std::array<Vec3, 3> sail{Vec3(500, -900, -900), Vec3(500, 900, -900), Vec3(500, 0, 900)};
  BeamBundle bundle{{}, Vec3(1000, 0, 0)};
  const auto spread = [&](double half) {
    for (std::size_t c = 0; c < 8; ++c) {
      bundle.hull[c] = Vec3(1000, c & 1 ? half : -half, c & 2 ? half : -half);
    }
  };
  const Shadow shadow(sail, Vec3::Zero());
  spread(100);
  EXPECT_TRUE(shadow.holds(bundle));
  for (Vec3& corner : bundle.hull) corner.x() = 499;  // before it
  EXPECT_FALSE(shadow.holds(bundle));
  spread(2000);
  EXPECT_FALSE(shadow.holds(bundle));
}

TEST(TwoBallView, EveryBeamOfAPatchReachesBeyondItsBundlesHull) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    Draw draw(seed);
    const Instrument made = instrument();
    TwoBallStylus rod = two_ball_stylus();
    rod.ball_radius = draw.between(1, 80);
    const Vec3 tip = draw.in_box(Vec3::Constant(-500), Vec3::Constant(500));
    const Vec3 station = tip + draw.between(200, 3000) * draw.direction();
    const TwoBallView view(made, rod, tip, station);
    const int level = 1 + static_cast<int>(draw.below(5));
    const auto patch = DirectionPatch::of_index(
        level, static_cast<std::uint32_t>(draw.below(DirectionPatch::count_at(level))));
    const auto bundle = view.bundle(1, patch);
    if (!bundle) continue;
    for (int i = 0; i < 30; ++i) {
      Vec3 s = Vec3::Zero();
      for (const Vec3& corner : patch.corners()) s += draw.between(0, 1) * corner;
      s.normalize();
      // The beam's end, drawn back to where it meets the hull's own sphere of ends.
      const RoundCone beam = view.beam(1, s);
      const double distance = (tip + rod.ball_distances[1] * s - station).norm();
      const double share = (bundle->middle - station).norm() /
                           (tip + rod.ball_distances[1] * patch.centre() - station).norm();
      ASSERT_LE(share * distance, (beam.end - station).norm() + 1e-9) << "seed " << seed;
    }
  }
}

}  // namespace
}  // namespace standpoint::test
