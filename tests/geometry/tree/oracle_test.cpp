#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"
#include "tests/geometry/margin_oracle.h"
#include "tests/geometry/random_scene.h"

namespace standpoint::test {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// Calls `look` with trees over every sort of scene and beams of every sort.
template <class Look>
void for_each_query(std::uint64_t seeds, std::size_t most_triangles, int beams, Look&& look) {
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
      const auto kind = static_cast<SceneKind>(s);
      Draw draw(seed * 100 + static_cast<std::uint64_t>(s));
      const std::vector<Mesh> scene = make_scene(kind, most_triangles, draw);
      const Tree tree(pointers(scene));
      for (int b = 0; b < beams * static_cast<int>(BeamKind::kCount); ++b) {
        const auto beam_kind = static_cast<BeamKind>(b % static_cast<int>(BeamKind::kCount));
        SCOPED_TRACE(testing::Message() << "seed " << seed << ", scene: " << name_of(kind)
                                        << ", beam " << b << ": " << name_of(beam_kind));
        look(scene, tree, make_beam(beam_kind, scene, draw), draw);
        if (testing::Test::HasFailure()) return;
      }
    }
  }
}

/// Every bound that the engine promises: the sum of what `reach` in tree.cpp may be.
double error_bound(const RoundCone& beam, const std::vector<Mesh>& scene) {
  return tolerance::margin_error(4 * reach_of(beam, scene));
}

TEST(TreeAgainstOracle, NearestHasTheLeastMarginOfAllTriangles) {
  for_each_query(2, 300, 2, [](const auto& scene, const Tree& tree, const RoundCone& beam, Draw&) {
    const double expected = least_margin(beam, scene);
    const double bound = error_bound(beam, scene);
    const auto contact = tree.nearest(beam);
    ASSERT_TRUE(contact.has_value());
    ASSERT_NEAR(contact->nearest.margin, expected, bound);
    // The named triangle is one that has that margin.
    const auto corners = tree.corners(contact->body, contact->triangle);
    ASSERT_NEAR(least_margin(beam, corners).margin, expected, 2 * bound);
    // A limit above the answer changes nothing, one below it leaves nothing.
    const auto limited = tree.nearest(beam, expected + 2 * bound);
    ASSERT_TRUE(limited.has_value());
    ASSERT_EQ(limited->nearest.margin, contact->nearest.margin);
    ASSERT_EQ(limited->triangle, contact->triangle);
    ASSERT_FALSE(tree.nearest(beam, expected - 2 * bound).has_value());
  });
}

TEST(TreeAgainstOracle, BlockedWhereverTheOracleSeesLessThanTheMarginAndClearElsewhere) {
  int blocked = 0, clear = 0;
  for_each_query(
      3, 200, 3, [&](const auto& scene, const Tree& tree, const RoundCone& beam, Draw& draw) {
        const double least = least_margin(beam, scene);
        const double bound = error_bound(beam, scene);
        // Far from the decision, near it, and next to it on both sides.
        for (const double offset : {-10.0, -1e-3, -4 * bound, 0.0, 4 * bound, 1e-3, 10.0}) {
          const double margin = least + offset;
          if (offset >= 0) {
            ASSERT_FALSE(tree.is_clear(beam, margin)) << "least " << least << " by " << offset;
            ++blocked;
          } else {
            ASSERT_TRUE(tree.is_clear(beam, margin)) << "least " << least << " by " << offset;
            ++clear;
          }
        }
        const double margin = draw.between(-5, 5);
        if (std::abs(least - margin) > 4 * bound) {
          ASSERT_EQ(tree.is_clear(beam, margin), least > margin);
        }
      });
  EXPECT_GT(blocked, 900);
  EXPECT_GT(clear, 700);
}

TEST(TreeAgainstOracle, TheUnfavourableAnswerInsideTheErrorBound) {
  // A capsule of radius 3 whose margin to the plate is 0 in exact arithmetic.
  Mesh plate;
  plate.vertices = {{3, -50, 100}, {3, 50, 100}, {90, 0, 100}};
  plate.triangles = {{0, 1, 2}};
  const Tree tree({&plate});
  const RoundCone beam = RoundCone::capsule({0, 0, 0}, {0, 0, 300}, 3);
  EXPECT_FALSE(tree.is_clear(beam, 0));
  EXPECT_TRUE(tree.is_clear(beam, -4 * tolerance::margin_error(1000)));
}

TEST(TreeAgainstOracle, ForEachWithinIsWhatLookingAtEveryTriangleFinds) {
  for_each_query(3, 300, 2,
                 [](const auto& scene, const Tree& tree, const RoundCone& beam, Draw& draw) {
                   const double below = draw.between(-5, 500);
                   const double bound = error_bound(beam, scene);
                   std::set<std::pair<std::uint32_t, std::uint32_t>> found;
                   tree.for_each_within(beam, below, [&](const Contact& contact) {
                     ASSERT_LT(contact.nearest.margin, below);
                     ASSERT_TRUE(found.insert({contact.body.index, contact.triangle.index}).second)
                         << "told twice";
                   });
                   std::set<std::pair<std::uint32_t, std::uint32_t>> near;
                   ASSERT_FALSE(tree.any_near(beam, below, [&](BodyId body, TriangleId triangle) {
                     EXPECT_TRUE(near.insert({body.index, triangle.index}).second) << "told twice";
                     return false;
                   }));
                   std::size_t told = 0;
                   const bool stopped =
                       tree.any_near(beam, below, [&](BodyId, TriangleId) { return ++told == 3; });
                   ASSERT_EQ(stopped, near.size() >= 3);
                   ASSERT_EQ(told, std::min<std::size_t>(near.size(), 3));
                   ASSERT_TRUE(std::includes(near.begin(), near.end(), found.begin(), found.end()));
                   for (std::uint32_t body = 0; body < scene.size(); ++body) {
                     for (std::uint32_t i = 0; i < scene[body].triangles.size(); ++i) {
                       const double margin = least_margin(beam, scene[body].corners(i)).margin;
                       if (std::abs(margin - below) < bound) continue;
                       ASSERT_EQ(found.contains({body, i}), margin < below)
                           << "body " << body << " triangle " << i << " margin " << margin;
                     }
                   }
                 });
}

TEST(TreeAgainstOracle, AHintNeverChangesAnAnswer) {
  for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
    const auto kind = static_cast<SceneKind>(s);
    SCOPED_TRACE(name_of(kind));
    Draw draw(77);
    const std::vector<Mesh> scene = make_scene(kind, 300, draw);
    const Tree tree(pointers(scene));
    BlockerHint carried;
    for (int b = 0; b < 400; ++b) {
      const auto beam_kind =
          static_cast<BeamKind>(draw.below(static_cast<std::size_t>(BeamKind::kCount)));
      const RoundCone beam = make_beam(beam_kind, scene, draw);
      BlockerHint nonsense{static_cast<std::uint32_t>(draw.below(1u << 30))};
      const bool is_clear = tree.is_clear(beam, 0);
      ASSERT_EQ(tree.is_clear(beam, 0, &carried), is_clear) << "beam " << b;
      ASSERT_EQ(tree.is_clear(beam, 0, &carried), is_clear) << "beam " << b << ", again";
      ASSERT_EQ(tree.is_clear(beam, 0, &nonsense), is_clear) << "beam " << b;
    }
  }
}

TEST(TreeAgainstOracle, ManyAtOnceAnswerAsEachAlone) {
  for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
    const auto kind = static_cast<SceneKind>(s);
    SCOPED_TRACE(name_of(kind));
    Draw draw(78);
    const std::vector<Mesh> scene = make_scene(kind, 300, draw);
    const Tree tree(pointers(scene));
    // None, fewer than take turns at once, as many, and more.
    for (const std::size_t count : {0u, 1u, 7u, 16u, 17u, 200u}) {
      std::vector<RoundCone> beams;
      for (std::size_t b = 0; b < count; ++b) {
        const auto beam_kind =
            static_cast<BeamKind>(draw.below(static_cast<std::size_t>(BeamKind::kCount)));
        beams.push_back(make_beam(beam_kind, scene, draw));
      }
      for (const double margin : {-1e9, -1.0, 0.0, 5.0, 1e9}) {
        const std::vector<bool> clear = tree.are_clear(beams, margin);
        const auto nearest = tree.nearest_to_each(beams, margin);
        ASSERT_EQ(clear.size(), count);
        ASSERT_EQ(tree.are_clear(beams, margin, Order::by_target), clear);
        ASSERT_EQ(nearest.size(), count);
        for (std::size_t b = 0; b < count; ++b) {
          ASSERT_EQ(clear[b], tree.is_clear(beams[b], margin)) << b << " of " << count;
          const auto alone = tree.nearest(beams[b], margin);
          ASSERT_EQ(nearest[b].has_value(), alone.has_value()) << b << " of " << count;
          if (!alone) continue;
          ASSERT_EQ(nearest[b]->nearest.margin, alone->nearest.margin) << b << " of " << count;
          ASSERT_EQ(nearest[b]->body, alone->body) << b << " of " << count;
          ASSERT_EQ(nearest[b]->triangle, alone->triangle) << b << " of " << count;
        }
      }
    }
  }
}

TEST(TreeAgainstOracle, OfEqualMarginsTheSmallerBodyThenTriangle) {
  Mesh plate;
  plate.vertices = {{-50, -50, 0}, {50, -50, 0}, {0, 80, 0}};
  for (int i = 0; i < 100; ++i) plate.triangles.push_back({0, 1, 2});
  Mesh far = plate;
  for (Vec3& v : far.vertices) v.z() -= 500;
  const Tree tree({&far, &plate, &plate});
  const auto contact = tree.nearest(RoundCone::ball({0, 0, 10}, 3));
  ASSERT_TRUE(contact.has_value());
  EXPECT_EQ(contact->body, BodyId(1));
  EXPECT_EQ(contact->triangle, TriangleId(0));
}

TEST(TreeAgainstOracle, AnEmptyTreeIsInNobodysWay) {
  const Mesh nothing;
  for (const Tree& tree : {Tree({}), Tree({&nothing, &nothing})}) {
    const RoundCone beam = RoundCone::capsule({0, 0, 0}, {0, 0, 300}, 3);
    EXPECT_TRUE(tree.is_clear(beam, 0));
    EXPECT_TRUE(tree.is_clear(beam, kInfinite));
    EXPECT_FALSE(tree.nearest(beam).has_value());
    EXPECT_EQ(tree.are_clear(std::vector{beam, beam}, 0), std::vector<bool>(2, true));
    EXPECT_FALSE(tree.nearest_to_each(std::vector{beam, beam})[1].has_value());
    EXPECT_EQ(tree.triangle_count(), 0u);
    BlockerHint hint{3};
    EXPECT_TRUE(tree.is_clear(beam, 0, &hint));
  }
}

}  // namespace
}  // namespace standpoint::test
