// The estimate of scatter against scatter that was put in.

#include "planner/segmentation/mesh_noise.h"

#include <array>
#include <utility>

#include <gtest/gtest.h>

#include "planner/segmentation/tolerances.h"
#include "tests/planner/segmentation/turned_mesh.h"

namespace standpoint {
namespace {

const std::vector<test::ProfilePoint> kRing = {{15, 0}, {40, 0}, {40, 25}, {15, 25}};

TEST(MeshScatter, IsThatWhichWasPutIn) {
  for (const double sigma : {0.01, 0.05, 0.2}) {
    for (const int pieces : {1, 4, 12}) {
      const Mesh mesh = test::scattered(test::turned(test::finer(kRing, pieces), 90), sigma, 17);
      const double found = estimate_scatter(join_triangles(mesh));
      EXPECT_GT(found, 0.7 * sigma) << sigma << " cut in " << pieces;
      EXPECT_LT(found, 1.6 * sigma) << sigma << " cut in " << pieces;
    }
  }
}

TEST(MeshScatter, CurvatureIsNone) {
  const Mesh ball = test::turned(test::arc(0, 0, 50, -90, 90, 12), 24);
  const JoinedMesh joined = join_triangles(ball);
  EXPECT_LT(estimate_scatter(joined), 0.01);
  EXPECT_GE(estimate_scatter(joined), tolerance::least_scatter(diagonal(joined)));
}

/// An octahedron whose triangles are cut in four again and again, on a ball: every edge bends the
/// one way, and no two neighbours lie in a plane.
Mesh ball_of_octahedron(double radius, int times) {
  Mesh mesh;
  for (int axis = 0; axis < 3; ++axis) {
    mesh.vertices.emplace_back(radius * Vec3::Unit(axis));
    mesh.vertices.emplace_back(-radius * Vec3::Unit(axis));
  }
  mesh.triangles = {{0, 2, 4}, {2, 1, 4}, {1, 3, 4}, {3, 0, 4},
                    {2, 0, 5}, {1, 2, 5}, {3, 1, 5}, {0, 3, 5}};
  for (int round = 0; round < times; ++round) {
    Mesh finer;
    for (const auto& t : mesh.triangles) {
      const auto first = static_cast<std::uint32_t>(finer.vertices.size());
      for (std::size_t k = 0; k < 3; ++k) finer.vertices.push_back(mesh.vertices[t[k]]);
      for (std::size_t k = 0; k < 3; ++k) {
        const Vec3 middle = mesh.vertices[t[k]] + mesh.vertices[t[(k + 1) % 3]];
        finer.vertices.emplace_back(radius * middle.normalized());
      }
      for (const auto& [a, b, c] : {std::array{0U, 3U, 5U}, std::array{3U, 1U, 4U},
                                    std::array{5U, 4U, 2U}, std::array{3U, 4U, 5U}}) {
        finer.triangles.push_back({first + a, first + b, first + c});
      }
    }
    mesh = std::move(finer);
  }
  return mesh;
}

TEST(MeshScatter, EdgesThatAllBendOneWayAreNoScatter) {
  const JoinedMesh joined = join_triangles(ball_of_octahedron(50, 3));
  ASSERT_EQ(joined.triangles.size(), 512U);
  EXPECT_EQ(estimate_scatter(joined), tolerance::least_scatter(diagonal(joined)));
}

Mesh turned_inside_out(Mesh mesh) {
  for (auto& triangle : mesh.triangles) std::swap(triangle[0], triangle[1]);
  return mesh;
}

TEST(MeshScatter, IsTheSameSeenFromTheOtherSide) {
  for (const double sigma : {0.0, 0.02, 0.1}) {
    Mesh ball = test::turned(test::arc(0, 0, 50, -90, 90, 48), 96);
    if (sigma > 0) ball = test::scattered(ball, sigma, 5);
    ball.triangles.pop_back();  // a closed one would be turned the right way out
    const double outside = estimate_scatter(join_triangles(ball));
    const double inside = estimate_scatter(join_triangles(turned_inside_out(ball)));
    EXPECT_NEAR(inside, outside, 1e-9 * outside) << sigma;
    if (sigma > 0) EXPECT_GT(outside, 0.3 * sigma) << "so that there is something to compare";
  }
}

/// Some 43000 edges of 14641 vertices, whose deviation itself is then known to 0.6 %.
TEST(MeshScatter, OfAFlatSheetIsTrueToWhatChanceLeaves) {
  constexpr std::uint32_t kSide = 121;
  Mesh sheet;
  for (std::uint32_t i = 0; i < kSide * kSide; ++i) {
    sheet.vertices.emplace_back(10.0 * (i % kSide), 10.0 * (i / kSide), 0);
    if (i % kSide == 0 || i < kSide) continue;
    sheet.triangles.push_back({i - kSide - 1, i - kSide, i});
    sheet.triangles.push_back({i - kSide - 1, i, i - 1});
  }
  const double found = estimate_scatter(join_triangles(test::scattered(sheet, 0.05, 29)));
  EXPECT_NEAR(found, 0.05, 0.025 * 0.05);
}

}  // namespace
}  // namespace standpoint
