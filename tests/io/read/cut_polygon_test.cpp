#include "io/read/meshes/cut_polygon.h"
#include "geometry/placement.h"
#include "tests/draw.h"

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

double area_of(const std::vector<Vec3>& p, const std::array<std::uint32_t, 3>& t) {
  return 0.5 * (p[t[1]] - p[t[0]]).cross(p[t[2]] - p[t[0]]).norm();
}

double area_of(const std::vector<Vec3>& p, const CutPolygon& cut) {
  double sum = 0;
  for (const auto& t : cut.triangles) {
    sum += area_of(p, t);
  }
  return sum;
}

/// The shoelace formula in the polygon's own plane: no triangles.
double polygon_area(const std::vector<Vec2>& p) {
  double twice = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec2& a = p[i];
    const Vec2& b = p[(i + 1) % p.size()];
    twice += a.x() * b.y() - b.x() * a.y();
  }
  return std::abs(twice) / 2;
}

std::vector<Vec3> placed(const std::vector<Vec2>& flat, const Mat3& turn, const Vec3& shift) {
  std::vector<Vec3> result;
  for (const Vec2& p : flat) {
    result.emplace_back(turn * Vec3(p.x(), p.y(), 0) + shift);
  }
  return result;
}

// Triangles that turn as the polygon does and together have its area neither overlap nor leave
// gaps.
TEST(CutPolygon, RandomStarsAreCoveredOnceInAnyPlane) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    test::Draw draw(seed);
    const std::size_t corners = 4 + seed % 40;
    std::vector<Vec2> flat;
    for (std::size_t i = 0; i < corners; ++i) {
      const double angle =
          2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(corners);
      const double radius = draw.between(0.05, 1.05);
      flat.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
    }
    if (seed % 2 == 0) {
      std::reverse(flat.begin(), flat.end());
    }
    const Vec3 axis = draw.direction();
    const Mat3 turn = Eigen::AngleAxisd(draw.between(0, 3), axis).toRotationMatrix();
    const std::vector<Vec3> polygon = placed(flat, turn, Vec3(1, 2, 3));
    const CutPolygon cut = cut_polygon(polygon);
    EXPECT_FALSE(cut.is_fan) << "seed " << seed;
    ASSERT_EQ(cut.triangles.size(), corners - 2) << "seed " << seed;
    EXPECT_NEAR(area_of(polygon, cut), polygon_area(flat), 1e-12 * static_cast<double>(corners))
        << "seed " << seed;
    const Vec3 normal = turn * Vec3(0, 0, seed % 2 == 0 ? -1 : 1);
    for (const auto& t : cut.triangles) {
      const Vec3 n = (polygon[t[1]] - polygon[t[0]]).cross(polygon[t[2]] - polygon[t[0]]);
      EXPECT_GE(n.dot(normal), -1e-15) << "seed " << seed;
    }
  }
}

TEST(CutPolygon, CornersInLineStayAndMakeNoFlatTriangle) {
  const std::vector<Vec3> p = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {2, 2, 0},
                               {1, 2, 0}, {0, 2, 0}, {0, 1, 0}};
  const CutPolygon cut = cut_polygon(p);
  ASSERT_EQ(cut.triangles.size(), 5U);
  EXPECT_FALSE(cut.is_fan);
  EXPECT_EQ(area_of(p, cut), 4);
  for (const auto& t : cut.triangles) {
    EXPECT_GT(area_of(p, t), 0);
  }
}

TEST(CutPolygon, HoleJoinedByASeamStaysOpen) {
  // A 4 x 4 square, and through the seam from (0, 0) to (1, 1) a hole of 2 x 2.
  const std::vector<Vec3> p = {{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}, {0, 0, 0},
                               {1, 1, 0}, {1, 3, 0}, {3, 3, 0}, {3, 1, 0}, {1, 1, 0}};
  const CutPolygon cut = cut_polygon(p);
  EXPECT_FALSE(cut.is_fan);
  EXPECT_EQ(cut.triangles.size(), 8U);
  EXPECT_EQ(area_of(p, cut), 12);
}

TEST(CutPolygon, PolygonThatCrossesItselfBecomesAFan) {
  const CutPolygon bow = cut_polygon(std::vector<Vec3>{{0, 0, 0}, {2, 2, 0}, {2, 0, 0}, {0, 2, 0}});
  EXPECT_TRUE(bow.is_fan);
  EXPECT_EQ(bow.triangles.size(), 2U);
}

TEST(CutPolygon, PolygonWithoutAreaIsCutAllTheSame) {
  const CutPolygon line = cut_polygon(std::vector<Vec3>(6, Vec3(1, 1, 1)));
  EXPECT_EQ(line.triangles.size(), 4U);
  const CutPolygon huge = cut_polygon(std::vector<Vec3>(kMostCornersCut + 1, Vec3(1, 1, 1)));
  EXPECT_TRUE(huge.is_fan);
  EXPECT_EQ(huge.triangles.size(), kMostCornersCut - 1);
}

}  // namespace
}  // namespace standpoint
