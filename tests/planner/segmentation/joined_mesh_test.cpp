// Neighbours where more than two triangles meet, and pieces.

#include "planner/segmentation/joined_mesh.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "tests/planner/segmentation/turned_mesh.h"

namespace standpoint {
namespace {

/// A box from `low` to `high`.
Mesh box(const Vec3& low, const Vec3& high) {
  Mesh mesh;
  for (int i = 0; i < 8; ++i) {
    mesh.vertices.emplace_back((i & 1) != 0 ? high.x() : low.x(), (i & 2) != 0 ? high.y() : low.y(),
                               (i & 4) != 0 ? high.z() : low.z());
  }
  for (const std::array<std::uint32_t, 4>& q : std::vector<std::array<std::uint32_t, 4>>{
           {0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}}) {
    mesh.triangles.push_back({q[0], q[1], q[2]});
    mesh.triangles.push_back({q[0], q[2], q[3]});
  }
  return mesh;
}

std::size_t open_sides(const JoinedMesh& mesh) {
  return static_cast<std::size_t>(std::count(mesh.across.begin(), mesh.across.end(), kNobody));
}

std::size_t pieces_of(const JoinedMesh& mesh) {
  return *std::max_element(mesh.pieces.begin(), mesh.pieces.end()) + 1;
}

TEST(JoinedTriangles, OfABoxAreClosedAndOutward) {
  const JoinedMesh mesh = join_triangles(box({0, 0, 0}, {2, 3, 4}));
  EXPECT_EQ(open_sides(mesh), 0U);
  EXPECT_EQ(pieces_of(mesh), 1U);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    EXPECT_GT(mesh.area_vectors[t].dot(mesh.vertices[mesh.triangles[t][0]] - Vec3(1, 1.5, 2)), 0);
  }
  for (std::uint32_t s = 0; s < mesh.across.size(); ++s) {
    EXPECT_EQ(mesh.across[mesh.across[s]], s);
    EXPECT_EQ(mesh.corner(s), mesh.end(mesh.across[s]));
  }
}

TEST(JoinedTriangles, TwoBoxesThatTouchAlongAnEdgeStayTwo) {
  const JoinedMesh mesh =
      join_triangles(test::both(box({0, 0, 0}, {1, 1, 1}), box({1, 1, 0}, {2, 2, 1})));
  EXPECT_EQ(open_sides(mesh), 0U);
  EXPECT_EQ(pieces_of(mesh), 2U);
}

TEST(JoinedTriangles, TwoBoxesThatTouchWithAWholeFaceStayTwo) {
  const JoinedMesh mesh =
      join_triangles(test::both(box({0, 0, 0}, {1, 1, 1}), box({1, 0, 0}, {2, 1, 1})));
  EXPECT_EQ(open_sides(mesh), 0U);
  EXPECT_EQ(pieces_of(mesh), 2U);
}

TEST(JoinedTriangles, OneTriangleTheWrongWayRoundIsTurned) {
  Mesh mesh = box({0, 0, 0}, {2, 3, 4});
  std::swap(mesh.triangles[5][0], mesh.triangles[5][1]);
  const JoinedMesh joined = join_triangles(mesh);
  EXPECT_EQ(open_sides(joined), 0U);
  for (std::size_t t = 0; t < joined.triangles.size(); ++t) {
    EXPECT_GT(joined.area_vectors[t].dot(joined.vertices[joined.triangles[t][0]] - Vec3(1, 1.5, 2)),
              0);
  }
}

}  // namespace
}  // namespace standpoint
