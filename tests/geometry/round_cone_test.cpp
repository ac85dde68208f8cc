#include "geometry/round_cone.h"

#include <gtest/gtest.h>

#include "geometry/tolerances.h"
#include "margin_oracle.h"
#include "random_scene.h"

namespace standpoint::test {
namespace {

struct Case {
  std::uint64_t seed;
  SceneKind scene;
  BeamKind beam;
};

std::ostream& operator<<(std::ostream& out, const Case& c) {
  return out << "seed " << c.seed << ", scene: " << name_of(c.scene)
             << ", beam: " << name_of(c.beam);
}

/// Calls `look` with many beams beside many single triangles, of every sort.
template <class Look>
void for_each_pair(std::uint64_t seeds, Look&& look) {
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
      for (int b = 0; b < static_cast<int>(BeamKind::kCount); ++b) {
        const Case c{seed, static_cast<SceneKind>(s), static_cast<BeamKind>(b)};
        SCOPED_TRACE(testing::Message() << c);
        Draw draw(seed * 1000 + static_cast<std::uint64_t>(s * 20 + b));
        const std::vector<Mesh> scene = make_scene(c.scene, 40, draw);
        const RoundCone beam = make_beam(c.beam, scene, draw);
        for (const Mesh& mesh : scene) {
          for (std::size_t i = 0; i < mesh.triangles.size(); ++i) look(beam, mesh.corners(i));
        }
        if (testing::Test::HasFailure()) return;
      }
    }
  }
}

double error_bound(const RoundCone& beam, const std::array<Vec3, 3>& triangle) {
  double reach = std::max(beam.start.cwiseAbs().maxCoeff(), beam.end.cwiseAbs().maxCoeff());
  for (const Vec3& corner : triangle) reach = std::max(reach, corner.cwiseAbs().maxCoeff());
  return tolerance::margin_error(reach);
}

TEST(RoundCone, UpToALimitTheMarginIsTheSameToTheBit) {
  Draw draw(77);
  int above = 0;
  for_each_pair(3, [&](const RoundCone& beam, const std::array<Vec3, 3>& triangle) {
    const Nearest plain = nearest_on_triangle(beam, triangle);
    // As a tie asks, and with some space.
    for (const double limit : {plain.margin, plain.margin + draw.size(1e-9, 1e3)}) {
      const Nearest limited = nearest_if_at_most(beam, triangle, limit);
      ASSERT_EQ(limited.margin, plain.margin);
      ASSERT_EQ(limited.along, plain.along);
      ASSERT_EQ(limited.at, plain.at);
    }
    const double below = plain.margin - draw.size(1e-9, 1e3);
    ASSERT_GT(nearest_if_at_most(beam, triangle, below).margin, below);
    above += nearest_if_at_most(beam, triangle, below).margin > plain.margin ? 1 : 0;
  });
  EXPECT_GT(above, 1000) << "the limit spares something";
}

TEST(RoundCone, MarginIsThatOfGoldenSectionOverCgalDistances) {
  double worst = 0;
  for_each_pair(6, [&](const RoundCone& beam, const std::array<Vec3, 3>& triangle) {
    const double bound = error_bound(beam, triangle);
    const double margin = nearest_on_triangle(beam, triangle).margin;
    const double expected = least_margin(beam, triangle).margin;
    ASSERT_NEAR(margin, expected, bound);
    worst = std::max(worst, std::abs(margin - expected) / bound);
  });
  RecordProperty("greatest error as a share of margin_error", std::to_string(worst));
  std::cout << "greatest error: " << worst << " of the bound\n";
}

TEST(RoundCone, NearestPointLiesOnTheTriangleAndAttainsTheMargin) {
  for_each_pair(2, [&](const RoundCone& beam, const std::array<Vec3, 3>& triangle) {
    const double bound = error_bound(beam, triangle);
    const Nearest nearest = nearest_on_triangle(beam, triangle);
    ASSERT_LE(distance(nearest.at, triangle), bound);
    const double length = (beam.end - beam.start).norm();
    ASSERT_GE(nearest.along, 0);
    ASSERT_LE(nearest.along, length);
    const double f = length > 0 ? nearest.along / length : 0;
    const Vec3 on_axis = beam.start + f * (beam.end - beam.start);
    const double radius = beam.start_radius + f * (beam.end_radius - beam.start_radius);
    ASSERT_NEAR((nearest.at - on_axis).norm() - radius, nearest.margin, bound);
  });
}

// By hand: a plate square to the axis at 100 mm, its edge 5 mm beside it, a beam of radius 3.
TEST(RoundCone, MarginToAPlatesEdgeByHand) {
  const RoundCone beam = RoundCone::capsule({0, 0, 0}, {0, 0, 300}, 3);
  const Nearest nearest =
      nearest_on_triangle(beam, {Vec3(5, -50, 100), Vec3(5, 50, 100), Vec3(90, 0, 100)});
  EXPECT_DOUBLE_EQ(nearest.margin, 2);
  EXPECT_DOUBLE_EQ(nearest.along, 100);
  EXPECT_TRUE(nearest.at.isApprox(Vec3(5, 0, 100)));
}

// By hand: the end ball, of radius 3 about (0,0,300), is 10 - 3 from a plate 10 mm beyond.
TEST(RoundCone, MarginBeyondTheEndByHand) {
  const RoundCone beam{{0, 0, 0}, {0, 0, 300}, 1, 3};
  const Nearest nearest =
      nearest_on_triangle(beam, {Vec3(-50, -50, 310), Vec3(50, -50, 310), Vec3(0, 80, 310)});
  EXPECT_DOUBLE_EQ(nearest.margin, 7);
  EXPECT_DOUBLE_EQ(nearest.along, 300);
}

// By hand: a pierced beam's margin is minus its radius where it is pierced: 1 + 2 * 150 / 300.
TEST(RoundCone, MarginWherePiercedByHand) {
  const RoundCone beam{{0, 0, 0}, {0, 0, 300}, 1, 3};
  const Nearest nearest =
      nearest_on_triangle(beam, {Vec3(-50, -50, 150), Vec3(50, -50, 150), Vec3(0, 80, 150)});
  EXPECT_NEAR(nearest.margin, -2, 1e-12);
  EXPECT_NEAR(nearest.along, 150, 1e-9);
}

TEST(RoundCone, FirstEntryIsWhereBisectionOverCgalDistancesFindsIt) {
  int tried = 0;
  for_each_pair(4, [&](const RoundCone& beam, const std::array<Vec3, 3>& triangle) {
    const Nearest nearest = nearest_on_triangle(beam, triangle);
    const Least least = least_margin(beam, triangle);
    for (const double margin : {0.0, 1.0, 50.0}) {
      // Where the beam only just touches, the entry is as uncertain as a square root: not asked.
      if (nearest.margin > margin - 1e-3 || (beam.end - beam.start).norm() == 0) continue;
      ++tried;
      const double entry = first_entry(beam, triangle, nearest, margin);
      ASSERT_NEAR(entry, first_below(beam, triangle, least.along, margin), 1e-4)
          << "margin " << margin;
    }
  });
  EXPECT_GT(tried, 2000);
}

TEST(RoundCone, FirstEntryIsTheStartWhereTheStartStandsInside) {
  const RoundCone beam = RoundCone::capsule({0, 0, 0}, {0, 0, 300}, 3);
  const std::array<Vec3, 3> triangle = {Vec3(1, -50, -10), Vec3(1, 50, -10), Vec3(1, 0, 200)};
  EXPECT_EQ(first_entry(beam, triangle, nearest_on_triangle(beam, triangle), 0), 0);
}

}  // namespace
}  // namespace standpoint::test
