#include "geometry/same_place.h"
#include "tests/draw.h"

#include <limits>
#include <map>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

TEST(SamePlace, FirstOfEqualPointsIsFoundAmongMany) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    test::Draw draw(seed);
    const auto step = [&] { return static_cast<double>(draw.below(10)); };
    std::vector<Vec3> points;
    for (int i = 0; i < 2000; ++i) {
      const double x = step(), y = step() * 1e-3;
      points.emplace_back(x, y, step() * 1e6);
    }
    std::map<std::array<double, 3>, std::uint32_t> seen;
    const std::vector<std::uint32_t> first = first_at_same_place(points);
    for (std::uint32_t i = 0; i < points.size(); ++i) {
      const std::array<double, 3> key = {points[i].x(), points[i].y(), points[i].z()};
      ASSERT_EQ(first[i], seen.try_emplace(key, i).first->second) << "seed " << seed << ", " << i;
    }
  }
}

TEST(SamePlace, NoPointsAndNotNumbersAreTaken) {
  EXPECT_TRUE(first_at_same_place({}).empty());
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::vector<Vec3> points = {{nan, 0, 0}, {0, 0, 0}, {nan, 0, 0}, {-0.0, 0, -0.0}};
  EXPECT_EQ(first_at_same_place(points), (std::vector<std::uint32_t>{0, 1, 0, 1}));
}

TEST(JoinEqualVertices, KeepsSurfaceOrderAndFacesAndDropsUnusedVertices) {
  Mesh mesh;
  mesh.vertices = {{9, 9, 9}, {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}};
  mesh.triangles = {{1, 2, 3}, {4, 5, 6}};
  mesh.face_of_triangle = {1, 0};
  mesh.face_names = {"a", "b"};
  join_equal_vertices(mesh);
  EXPECT_EQ(mesh.vertices, (std::vector<Vec3>{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}}));
  EXPECT_EQ(mesh.triangles, (std::vector<std::array<std::uint32_t, 3>>{{0, 1, 2}, {1, 3, 2}}));
  EXPECT_EQ(mesh.face_of_triangle, (std::vector<std::uint32_t>{1, 0}));
}

}  // namespace
}  // namespace standpoint
