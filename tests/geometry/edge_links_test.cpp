// Which triangles meet at an edge, held against asking every pair of sides.

#include "geometry/edge_links.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/draw.h"

namespace standpoint {
namespace {

std::array<std::uint32_t, 2> ends(const Mesh& mesh, std::uint32_t side) {
  std::array<std::uint32_t, 2> both{mesh.triangles[side / 3][side % 3],
                                    mesh.triangles[side / 3][(side + 1) % 3]};
  if (both[0] > both[1]) std::swap(both[0], both[1]);
  return both;
}

TEST(EdgeLinks, ASidesCircleIsAllThatJoinTheSameVertices) {
  int alone = 0, in_pairs = 0, in_more = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    test::Draw draw(seed);
    Mesh mesh;
    mesh.vertices.resize(3 + draw.below(12));
    const std::size_t count = draw.below(40);
    for (std::size_t i = 0; i < count; ++i) {
      // Any three vertices, now and then one of them twice: files hold such triangles.
      std::array<std::uint32_t, 3> corners{};
      for (auto& c : corners) c = static_cast<std::uint32_t>(draw.below(mesh.vertices.size()));
      mesh.triangles.push_back(corners);
    }
    const EdgeLinks links(mesh);
    for (std::uint32_t side = 0; side < 3 * count; ++side) {
      std::vector<std::uint32_t> circle{side}, expected;
      while (links.next(circle.back()) != side) {
        circle.push_back(links.next(circle.back()));
        ASSERT_LE(circle.size(), 3 * count) << "seed " << seed << ", side " << side;
      }
      for (std::uint32_t other = 0; other < 3 * count; ++other) {
        if (ends(mesh, other) == ends(mesh, side)) expected.push_back(other);
      }
      std::sort(circle.begin(), circle.end());
      ASSERT_EQ(circle, expected) << "seed " << seed << ", side " << side;
      (expected.size() == 1 ? alone : expected.size() == 2 ? in_pairs : in_more) += 1;
    }
  }
  EXPECT_GT(alone, 100);
  EXPECT_GT(in_pairs, 100);
  EXPECT_GT(in_more, 100);
}

TEST(EdgeLinks, AnEmptyMeshHasNone) {
  EXPECT_NO_THROW(EdgeLinks(Mesh{}));
}

}  // namespace
}  // namespace standpoint
