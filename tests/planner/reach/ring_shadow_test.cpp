// The ring that a rod's balls can lie in, cut into sectors: whatever acceptance allows must be held
// by its sector, or a direction that passes would be taken for hidden.

#include "planner/reach/ring_shadow.h"

#include <gtest/gtest.h>

#include <cmath>

#include "planner/reach/two_ball_view.h"
#include "reach_random_scene.h"

namespace standpoint::test {
namespace {

struct Seen {
  Instrument instrument;
  TwoBallStylus rod;
  Vec3 tip, station;
};

Seen random_seen(Draw& draw) {
  Seen seen{test::instrument(), two_ball_stylus(), draw.in_box(500), Vec3::Zero()};
  seen.instrument.range = {0, 1e6};
  seen.instrument.elevation_rad = {-1.5, 1.5};
  seen.rod.acceptance_rad = draw.between(0, 60) * kDeg;
  seen.rod.ball_distances = {draw.between(50, 200), draw.between(200, 600)};
  const double times = draw.chance(0.5) ? draw.between(3, 6) : draw.between(6, 60);
  seen.station = seen.tip + times * seen.rod.ball_distances[0] * draw.direction();
  return seen;
}

/// A direction that acceptance allows; nothing where a few draws meet none.
std::optional<Vec3> accepted(const TwoBallView& view, Draw& draw) {
  for (int i = 0; i < 40; ++i) {
    const Vec3 s = draw.direction();
    if (!view.rule_that_fails(s)) return s;
  }
  return std::nullopt;
}

TEST(BallRing, EveryAcceptedBeamIsInTheBundleOfItsSector) {
  int held = 0;
  double most = 0;  // how far off the bundle's axis, as a share of its radius
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    Draw draw(seed);
    const Seen seen = random_seen(draw);
    const auto ring = BallRing::about(seen.rod, seen.tip, seen.station);
    if (!ring) continue;
    const TwoBallView view(seen.instrument, seen.rod, seen.tip, seen.station);
    for (int i = 0; i < 20; ++i) {
      const auto s = accepted(view, draw);
      if (!s) continue;
      for (const std::size_t ball : TwoBallView::kBalls) {
        const auto bundle = ring->bundle(ball, ring->sector_of(*s));
        if (!bundle) continue;
        const RoundCone beam = view.beam(ball, *s);
        const Vec3 end = beam.end - seen.station;
        const double depth = end.dot(bundle->along);
        ASSERT_GE(depth, bundle->length) << "seed " << seed << ", ball " << ball;
        const Vec3 at_disc = bundle->length / depth * end;
        const double off = (at_disc - bundle->length * bundle->along).norm();
        ASSERT_LE(off, bundle->radius) << "seed " << seed << ", ball " << ball;
        most = std::max(most, off / bundle->radius);
        ++held;
      }
    }
  }
  EXPECT_GT(held, 30'000);
  EXPECT_GT(most, 0.9) << "no sector is much wider than it must be";
}

TEST(BallRing, APatchsSectorsHoldAllItsDirections) {
  int some = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    Draw draw(seed);
    const Seen seen = random_seen(draw);
    const auto ring = BallRing::about(seen.rod, seen.tip, seen.station);
    if (!ring) continue;
    for (int i = 0; i < 40; ++i) {
      const int level = 1 + static_cast<int>(draw.below(6));
      const auto patch = DirectionPatch::of_index(
          level, static_cast<std::uint32_t>(draw.below(DirectionPatch::count_at(level))));
      const BallRing::Sectors sectors = ring->sectors_of(patch);
      ASSERT_GE(sectors.first, 0);
      ASSERT_LT(sectors.first, BallRing::kSectors);
      some += sectors.count < BallRing::kSectors ? 1 : 0;
      for (int k = 0; k < 12; ++k) {
        Vec3 s = Vec3::Zero();
        for (const Vec3& corner : patch.corners()) s += draw.between(0, 1) * corner;
        if (k < 4) s = patch.corners()[static_cast<std::size_t>(k)];
        const int after_first =
            (ring->sector_of(s.normalized()) - sectors.first + BallRing::kSectors) %
            BallRing::kSectors;
        ASSERT_LT(after_first, sectors.count)
            << "seed " << seed << ", level " << level << ", patch " << patch.index();
      }
    }
  }
  EXPECT_GT(some, 5000);
}

TEST(BallRing, ThereIsNoneNearTheStationOrWhereNearlyAllIsAccepted) {
  TwoBallStylus rod = two_ball_stylus();
  rod.ball_distances = {150, 350};
  rod.acceptance_rad = 30 * kDeg;
  EXPECT_TRUE(BallRing::about(rod, Vec3::Zero(), {451, 0, 0}));
  EXPECT_FALSE(BallRing::about(rod, Vec3::Zero(), {449, 0, 0}));
  rod.acceptance_rad = 80 * kDeg;
  EXPECT_FALSE(BallRing::about(rod, Vec3::Zero(), {5000, 0, 0}));
}

}  // namespace
}  // namespace standpoint::test
