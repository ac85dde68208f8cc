// The search over a stylus's directions leaves patches out whole. Leaving out must change no
// answer: here it is held against asking every finest direction by itself, and its parts against
// their definitions.

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/tree/tree.h"
#include "planner/reach/shank_room.h"
#include "planner/reach/two_ball_stylus.h"
#include "planner/reach/two_ball_view.h"
#include "reach_probe.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

/// A place near the part where a stylus is held: on a feature or in a nest.
Place random_place(const MadeScene& scene, Draw& draw, double radius) {
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
  return {cell, tip, rod};
}

TEST(DirectionSearch, RoomDecidedByPatchesIsRoomDecidedOneByOne) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    Draw draw(seed);
    const MadeScene scene = random_scene(draw, {1, 8});
    const Cell cell = cell_of(scene);
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
    MadeScene scene = random_scene(draw, {1, 14});
    // Coarse faces are hidden behind as a whole, fine ones by many triangles together.
    for (std::size_t b = 0; b < scene.bodies.size(); ++b)
      scene.reshape(BodyId(b), cut_up(*scene.meshes[b], draw.below(4)));
    const Cell cell = cell_of(scene);
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

TEST(DirectionSearch, NoBeamOfAPatchGainsMoreThanTold) {
  double most_of_gain = 0;  // as a share of what is told
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    Draw draw(seed);
    MadeScene scene = random_scene(draw, {1, 8});
    scene.instrument.beam_growth_rad = draw.chance(0.5) ? 0 : draw.between(0, 0.4);
    const Cell cell = cell_of(scene);
    const auto& rod = std::get<TwoBallStylus>(scene.offset_styli.back());
    const Place place = random_place(scene, draw, rod.shank.tip_radius);
    const TwoBallView view(scene.instrument, rod, place.optical_centre, random_station(draw));
    for (int i = 0; i < 20; ++i) {
      const std::size_t ball = draw.below(2);
      const int level = 2 + static_cast<int>(draw.below(4));
      const auto patch = DirectionPatch::of_index(
          level, static_cast<std::uint32_t>(draw.below(DirectionPatch::count_at(level))));
      const auto margin = [&](const Vec3& s) {
        return cell.tree().nearest(view.beam(ball, s))->nearest.margin;
      };
      if (!view.is_outside(ball, patch.centre())) continue;
      const double at_centre = margin(patch.centre());
      for (int k = 0; k < 8; ++k) {
        Vec3 s = Vec3::Zero();
        for (const Vec3& corner : patch.corners()) s += draw.between(0, 1) * corner;
        if (k < 4) s = patch.corners()[static_cast<std::size_t>(k)];
        s.normalize();
        if (!view.is_outside(ball, s)) continue;
        const double gain = margin(s) - at_centre;
        ASSERT_LE(gain, view.most_gain(ball, patch) + 1e-9) << "seed " << seed;
        most_of_gain = std::max(most_of_gain, gain / view.most_gain(ball, patch));
      }
    }
  }
  EXPECT_GT(most_of_gain, 0.9);
}

TEST(DirectionSearch, LookTellsTheLargestMarginOfAllDirections) {
  int reached_count = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Draw draw(seed);
    const MadeScene scene = random_scene(draw, {1, 10});
    const Cell cell = cell_of(scene);
    const auto& rod = std::get<TwoBallStylus>(scene.offset_styli.back());
    const Place place = random_place(scene, draw, rod.shank.tip_radius);
    const Vec3 station = random_station(draw);
    TwoBallStylusAt at(cell, TargetId(target_count(scene) - 1), place);
    const Outcome outcome = at.look(station);
    const auto* told = std::get_if<Reached>(&outcome);
    if (told == nullptr) continue;
    ++reached_count;
    ShankRoom room = room_of(cell, rod, place.optical_centre);
    const TwoBallView view(scene.instrument, rod, place.optical_centre, station);
    double largest = -1;
    for (std::uint32_t k = 0; k < DirectionPatch::kFinestCount; ++k) {
      const Vec3& s = finest_directions()[k];
      if (view.rule_that_fails(s) || !room.is_free(k)) continue;
      if (!cell.tree().is_clear(view.beam(0, s), std::max(largest, scene.rules.min_margin)))
        continue;
      largest = std::max(largest, std::min(cell.tree().nearest(view.beam(0, s))->nearest.margin,
                                           cell.tree().nearest(view.beam(1, s))->nearest.margin));
    }
    ASSERT_EQ(told->margin, largest) << "seed " << seed;
    ASSERT_EQ(at.margin_if_reached(station), told->margin) << "seed " << seed;
  }
  EXPECT_GT(reached_count, 20);
}

}  // namespace
}  // namespace standpoint::test
