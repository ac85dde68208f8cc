#include "io/write/drawings/silhouette.h"
#include "tests/draw.h"

#include <gtest/gtest.h>

namespace standpoint {
namespace {

const View kAbove{Vec3::UnitX(), Vec3::UnitY()};
const View kSide{Vec3::UnitX(), Vec3::UnitZ()};
const Box2 kWindow{{-1000, -1000}, {1000, 1000}};

Mesh triangles(const std::vector<Vec3>& corners) {
  Mesh mesh;
  mesh.vertices = corners;
  for (std::uint32_t i = 0; i + 2 < corners.size(); i += 3)
    mesh.triangles.push_back({i, i + 1, i + 2});
  return mesh;
}

void add_rectangle(std::vector<Vec3>& corners, const Vec2& low, const Vec2& high, double z) {
  const Vec3 a(low.x(), low.y(), z), b(high.x(), low.y(), z), c(high.x(), high.y(), z),
      d(low.x(), high.y(), z);
  corners.insert(corners.end(), {a, b, c, a, c, d});
}

/// Shoelace; positive where it goes round counter-clockwise.
double area(const std::vector<Vec2>& outline) {
  double twice = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2& p = outline[i];
    const Vec2& q = outline[(i + 1) % outline.size()];
    twice += p.x() * q.y() - q.x() * p.y();
  }
  return twice / 2;
}

bool is_inside(const Outlines& outlines, const Vec2& p) {
  bool is_in = false;
  for (const auto& outline : outlines) {
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
      if ((outline[i].y() > p.y()) == (outline[j].y() > p.y())) continue;
      const double x = outline[i].x() + (p.y() - outline[i].y()) /
                                            (outline[j].y() - outline[i].y()) *
                                            (outline[j].x() - outline[i].x());
      if (p.x() < x) is_in = !is_in;
    }
  }
  return is_in;
}

TEST(Silhouette, OfARectangleIsThatRectangleWithinACell) {
  std::vector<Vec3> corners;
  add_rectangle(corners, {-203, -101}, {305, 207}, 50);
  const Outlines outlines = silhouette(triangles(corners), kAbove, kWindow, 4);
  ASSERT_EQ(outlines.size(), 1u);
  EXPECT_LT(outlines[0].size(), 16u);  // straight sides need few corners
  EXPECT_GT(area(outlines[0]), 0);
  Vec2 low = outlines[0][0], high = low;
  for (const Vec2& p : outlines[0]) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  EXPECT_LT((low - Vec2(-203, -101)).cwiseAbs().maxCoeff(), 4);
  EXPECT_LT((high - Vec2(305, 207)).cwiseAbs().maxCoeff(), 4);
}

TEST(Silhouette, KeepsHoles) {
  std::vector<Vec3> frame;
  add_rectangle(frame, {-400, -400}, {400, -200}, 0);
  add_rectangle(frame, {-400, 200}, {400, 400}, 0);
  add_rectangle(frame, {-400, -200}, {-200, 200}, 0);
  add_rectangle(frame, {200, -200}, {400, 200}, 0);
  const Outlines outlines = silhouette(triangles(frame), kAbove, kWindow, 4);
  ASSERT_EQ(outlines.size(), 2u);
  EXPECT_TRUE(is_inside(outlines, {300, 0}));
  EXPECT_FALSE(is_inside(outlines, {0, 0}));
  EXPECT_LT(std::min(area(outlines[0]), area(outlines[1])), 0);  // the hole goes the other way
}

TEST(Silhouette, ShowsASheetSeenEdgeOn) {
  // Upright sheets along x, along y and aslant: from above each is a line without area.
  for (const Vec3& to : {Vec3(500, 0, 0), Vec3(0, 500, 0), Vec3(353, 311, 0)}) {
    const Mesh sheet = triangles({Vec3::Zero(), to, Vec3(0, 0, 300)});
    const Outlines outlines = silhouette(sheet, kAbove, kWindow, 4);
    ASSERT_EQ(outlines.size(), 1u) << to.transpose();  // in one piece
    EXPECT_TRUE(is_inside(outlines, (to / 2).head<2>())) << to.transpose();
  }
}

TEST(Silhouette, IsCutByTheWindow) {
  std::vector<Vec3> hall;
  add_rectangle(hall, {-1e6, -1e6}, {1e6, 1e6}, 0);
  const Outlines outlines = silhouette(triangles(hall), kAbove, kWindow, 4);
  ASSERT_EQ(outlines.size(), 1u);
  for (const Vec2& p : outlines[0]) EXPECT_LT(p.cwiseAbs().maxCoeff(), 1000 + 3 * 4);
  EXPECT_TRUE(is_inside(outlines, {999, -999}));
  std::vector<Vec3> elsewhere;
  add_rectangle(elsewhere, {2000, 2000}, {3000, 3000}, 0);
  EXPECT_TRUE(silhouette(triangles(elsewhere), kAbove, kWindow, 4).empty());
  EXPECT_TRUE(silhouette(Mesh{}, kAbove, kWindow, 4).empty());
}

// Once a place beyond what an int counts was taken for the window's left or lower side.
TEST(Silhouette, WhatLiesBillionsOfCellsAsideCoversNothing) {
  const auto seen_beside = [](const Vec2& low) {
    std::vector<Vec3> corners;
    add_rectangle(corners, {-3, -3}, {3, 3}, 0);
    const Outlines alone = silhouette(triangles(corners), kAbove, kWindow, 4);
    add_rectangle(corners, low, low + Vec2(6, 6), 0);
    return std::pair(alone, silhouette(triangles(corners), kAbove, kWindow, 4));
  };
  for (const Vec2& low : {Vec2(1e11, 20), Vec2(-1e11, 20), Vec2(20, 1e11), Vec2(20, -1e11)}) {
    const auto [alone, beside] = seen_beside(low);
    EXPECT_EQ(beside.size(), alone.size()) << low.transpose();
    EXPECT_FALSE(is_inside(beside, {23, 23})) << low.transpose();
    EXPECT_FALSE(is_inside(beside, {-500, 23})) << low.transpose();
    EXPECT_TRUE(is_inside(beside, {0, 0})) << low.transpose();
  }
}

TEST(Silhouette, LooksFromTheSideToo) {
  const Mesh wall = triangles({{0, 5, 0}, {400, 5, 0}, {0, 5, 300}});
  const Outlines outlines = silhouette(wall, kSide, kWindow, 4);
  ASSERT_EQ(outlines.size(), 1u);
  EXPECT_NEAR(area(outlines[0]), 400 * 300 / 2.0, 4 * 1200);  // a cell along its border
  EXPECT_TRUE(is_inside(outlines, {100, 100}));
  EXPECT_FALSE(is_inside(outlines, {300, 250}));
}

/// Whether p is in the triangle, and how far from its border: by the signs of three areas.
double depth_in(const std::array<Vec2, 3>& t, const Vec2& p) {
  double least = 1e300;
  const auto cross = [](const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); };
  const double sign = cross(t[1] - t[0], t[2] - t[0]) < 0 ? -1 : 1;
  for (int i = 0; i < 3; ++i) {
    const Vec2 edge = t[(i + 1) % 3] - t[i];
    least = std::min(least, sign * cross(edge, p - t[i]) / edge.norm());
  }
  return least;
}

TEST(Silhouette, OfRandomTrianglesCoversTheirUnion) {
  constexpr unsigned kSeed = 411;
  constexpr double kCell = 5;
  test::Draw draw(kSeed);
  for (int c = 0; c < 20; ++c) {
    std::vector<Vec3> corners;
    for (int i = 0; i < 3 * 8; ++i) corners.push_back(draw.in_box(900));
    const Mesh mesh = triangles(corners);
    const Outlines outlines = silhouette(mesh, kAbove, kWindow, kCell);
    for (int i = 0; i < 500; ++i) {
      const Vec2 p = draw.in_box(900).head<2>();
      double depth = -1e300;
      for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto k = mesh.corners(t);
        depth = std::max(depth, depth_in({k[0].head<2>(), k[1].head<2>(), k[2].head<2>()}, p));
      }
      SCOPED_TRACE(testing::Message() << "seed " << kSeed << " case " << c << " point " << i);
      if (depth > kCell) {
        EXPECT_TRUE(is_inside(outlines, p)) << p.transpose();
      }
      // Near an outer corner the distance to the lines through it may be less than to the triangle,
      // so far outside is asked of the outline by a wider berth.
      if (depth < -2 * kCell && depth > -1e299) {
        bool is_near = false;
        for (const auto& outline : outlines)
          for (const Vec2& q : outline) is_near = is_near || (q - p).norm() < 2 * kCell;
        if (!is_near) {
          EXPECT_FALSE(is_inside(outlines, p)) << p.transpose();
        }
      }
    }
  }
}

TEST(Silhouette, SameInputSameOutline) {
  std::vector<Vec3> corners;
  add_rectangle(corners, {-203, -101}, {305, 207}, 50);
  EXPECT_EQ(silhouette(triangles(corners), kAbove, kWindow, 4),
            silhouette(triangles(corners), kAbove, kWindow, 4));
}

}  // namespace
}  // namespace standpoint
