// Touches laid over a body's surface: docs/touches.md, contract section 9.

#include "planner/surface/raise_touches.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

constexpr double kStep = 1.0 / 8;  // of the spacing, of the lines that places are chosen from

SurfaceSelection over(std::vector<Vec2> polygon) {
  SurfaceSelection selection;
  selection.polygon = std::move(polygon);
  return selection;
}
SurfaceSelection within(const Vec3& low, const Vec3& high) {
  SurfaceSelection selection;
  selection.inside = {low, high};
  return selection;
}
std::vector<Vec2> rectangle(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// A ball of triangles: a cube's, pushed out.
Mesh ball(const Vec3& centre, double radius, std::size_t cuts) {
  Mesh mesh = cut_up(box(Vec3::Constant(-1), Vec3::Constant(1)), cuts);
  for (Vec3& vertex : mesh.vertices) vertex = centre + radius * vertex.normalized();
  return mesh;
}

/// Distance of a place to a triangle, by its own corners, edges and face: shares nothing with the
/// program.
double off_triangle(const Vec3& p, const std::array<Vec3, 3>& t) {
  double least = HUGE_VAL;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3 &a = t[k], &b = t[(k + 1) % 3], along = b - a;
    const double share = std::clamp((p - a).dot(along) / along.squaredNorm(), 0.0, 1.0);
    least = std::min(least, (p - a - share * along).norm());
  }
  const Vec3 across = (t[1] - t[0]).cross(t[2] - t[0]), n = across.normalized();
  for (std::size_t k = 0; k < 3; ++k)
    if ((t[(k + 1) % 3] - t[k]).cross(p - t[k]).dot(n) < 0) return least;
  return std::min(least, std::abs((p - t[0]).dot(n)));
}
double off_mesh(const Vec3& p, const Mesh& mesh) {
  double least = HUGE_VAL;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    least = std::min(least, off_triangle(p, mesh.corners(t)));
  return least;
}

double nearest_two(const std::vector<PointFeature>& touches) {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i < touches.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (touches[i].normal.dot(touches[k].normal) >= -0.5)
        least = std::min(least, (touches[i].at - touches[k].at).norm());
  return least;
}
double off_touches(const Vec3& p, const std::vector<PointFeature>& touches) {
  double least = HUGE_VAL;
  for (const PointFeature& touch : touches) least = std::min(least, (touch.at - p).norm());
  return least;
}

TEST(RaiseTouches, OfAPlatesTopAreOnItSpacedAndCoverIt) {
  const Mesh plate = box({0, 0, 0}, {1000, 600, 50});
  const auto raised = raise_touches(plate, over(rectangle(100, 100, 900, 500)), {120, 19.05});
  ASSERT_FALSE(raised.why_none);
  EXPECT_GT(raised.touches.size(), 15u);
  for (const PointFeature& touch : raised.touches) {
    EXPECT_EQ(touch.at.z(), 50);
    EXPECT_EQ(touch.normal, Vec3::UnitZ()) << "the underside is over the polygon too";
    EXPECT_TRUE(touch.at.x() >= 100 && touch.at.x() <= 900 && touch.at.y() >= 100 &&
                touch.at.y() <= 500);
  }
  EXPECT_GE(nearest_two(raised.touches), 120);
  Draw draw(3);
  for (int i = 0; i < 2000; ++i) {
    const Vec3 p = draw.in_box({100, 100, 50}, {900, 500, 50});
    EXPECT_LE(off_touches(p, raised.touches), 120 * (1 + kStep)) << "seed 3, case " << i;
  }
}

TEST(RaiseTouches, OnlyWhatFacesUpToEightyDegreesIsOverAPolygon) {
  // A roof of two slopes, and an upright wall.
  for (const auto& [tilt, has_any] : {std::pair{79.9, true}, {80.1, false}}) {
    Mesh slope;
    const double rise = 300 * std::tan(tilt * kDeg);
    slope.vertices = {{0, 0, 0}, {0, 300, 0}, {-300, 300, rise}, {-300, 0, rise}};
    slope.triangles = {{0, 1, 2}, {0, 2, 3}};
    const auto raised = raise_touches(slope, over(rectangle(-400, -100, 100, 400)), {100, 3});
    EXPECT_EQ(raised.touches.empty(), !has_any) << tilt;
    if (!has_any) EXPECT_EQ(raised.why_none, NoTouches::nothing_selected);
  }
}

TEST(RaiseTouches, OfABallAreOnItSpacedAndCoverItAllRound) {
  const Mesh mesh = ball({100, 200, 300}, 400, 4);
  const auto raised =
      raise_touches(mesh, within({-400, -400, -400}, {900, 900, 900}), {150, 19.05});
  ASSERT_FALSE(raised.why_none);
  for (const PointFeature& touch : raised.touches) {
    EXPECT_LE(off_mesh(touch.at, mesh), 1e-5);
    EXPECT_GT(touch.normal.dot((touch.at - Vec3(100, 200, 300)) / 400), 0.99);
  }
  EXPECT_GE(nearest_two(raised.touches), 150);
  Draw draw(8);
  for (int i = 0; i < 2000; ++i) {
    const Vec3 p = Vec3(100, 200, 300) + 400 * draw.direction();
    EXPECT_LE(off_touches(p, raised.touches), 150 * 1.25) << "seed 8, case " << i;
  }
}

TEST(RaiseTouches, TheOrderOfTrianglesAndTheirFirstCornerDoNotMatter) {
  Mesh mesh = cut_up(ball({10, 20, 30}, 200, 2), 1);
  const auto selection = within({-400, -400, 0}, {400, 400, 400});
  const auto before = raise_touches(mesh, selection, {60, 6});
  ASSERT_GT(before.touches.size(), 10u);
  Draw draw(21);
  for (int i = 0; i < 5; ++i) {
    for (std::size_t t = mesh.triangles.size(); t > 1; --t)
      std::swap(mesh.triangles[t - 1], mesh.triangles[draw.below(t)]);
    for (auto& triangle : mesh.triangles)
      std::rotate(triangle.begin(), triangle.begin() + static_cast<long>(draw.below(3)),
                  triangle.end());
    const auto after = raise_touches(mesh, selection, {60, 6});
    ASSERT_EQ(after.touches.size(), before.touches.size()) << "seed 21, case " << i;
    for (std::size_t k = 0; k < after.touches.size(); ++k) {
      EXPECT_EQ(after.touches[k].at, before.touches[k].at) << "seed 21, case " << i;
      EXPECT_EQ(after.touches[k].normal, before.touches[k].normal) << "seed 21, case " << i;
    }
  }
}

TEST(RaiseTouches, HowAFlatFaceIsCutIntoTrianglesDoesNotMatter) {
  const Mesh coarse = box({0, 0, 0}, {700, 500, 40});
  const auto selection = over(rectangle(33, 41, 655, 437));
  const auto before = raise_touches(coarse, selection, {90, 6});
  for (std::size_t cuts = 1; cuts <= 3; ++cuts) {
    const auto after = raise_touches(cut_up(coarse, cuts), selection, {90, 6});
    ASSERT_EQ(after.touches.size(), before.touches.size());
    for (std::size_t k = 0; k < after.touches.size(); ++k)
      EXPECT_LE((after.touches[k].at - before.touches[k].at).norm(), 1e-9);
  }
}

TEST(RaiseTouches, StayOffSharpAndOpenEdges) {
  // The whole box, all six sides; each touch is 3 mm off every edge of its side.
  const Mesh block = box({0, 0, 0}, {200, 150, 100});
  const auto raised =
      raise_touches(block, within(Vec3::Constant(-1), Vec3::Constant(999)), {40, 0});
  std::array<int, 6> sides{};
  for (const PointFeature& touch : raised.touches) {
    const Vec3 high(200, 150, 100);
    for (Eigen::Index axis = 0; axis < 3; ++axis) {
      const double off = std::min(touch.at[axis], high[axis] - touch.at[axis]);
      if (touch.normal[axis] == 0) EXPECT_GE(off, 3) << touch.at.transpose();
      if (touch.normal[axis] != 0)
        ++sides[static_cast<std::size_t>(2 * axis + (touch.normal[axis] > 0 ? 1 : 0))];
    }
  }
  for (const int count : sides) EXPECT_GT(count, 2);
  // An open sheet: its border too. With a small spacing a tenth of that is enough.
  Mesh sheet;
  sheet.vertices = {{0, 0, 0}, {100, 0, 0}, {100, 80, 0}, {0, 80, 0}};
  sheet.triangles = {{0, 1, 2}, {0, 2, 3}};
  double least = HUGE_VAL;
  for (const PointFeature& touch :
       raise_touches(sheet, over(rectangle(-5, -5, 105, 85)), {10, 0}).touches)
    least = std::min({least, touch.at.x(), touch.at.y(), 100 - touch.at.x(), 80 - touch.at.y()});
  EXPECT_GE(least, 1);
  EXPECT_LT(least, 3);
}

/// A roof of two slopes that meet in a ridge along y at x = 0, each this far down and out.
Mesh roof(double out, double down) {
  Mesh mesh;
  mesh.vertices = {{-out, 0, -down},   {0, 0, 0},   {out, 0, -down},
                   {-out, 300, -down}, {0, 300, 0}, {out, 300, -down}};
  mesh.triangles = {{0, 1, 4}, {0, 4, 3}, {1, 2, 5}, {1, 5, 4}};
  return mesh;
}

TEST(RaiseTouches, StayOffARidgeOfMoreThanThirtyDegrees) {
  // So narrow that the middle, which is taken first, is the ridge.
  for (const auto& [turn, is_off] : {std::pair{25.0, false}, {35.0, true}, {50.0, true}}) {
    const double down = 7 * std::tan(turn / 2 * kDeg);
    const auto raised = raise_touches(roof(7, down), over(rectangle(-9, -9, 9, 309)), {40, 0});
    ASSERT_FALSE(raised.touches.empty()) << turn;
    double nearest = HUGE_VAL;
    for (const PointFeature& touch : raised.touches)
      nearest = std::min(nearest, std::hypot(touch.at.x(), touch.at.z()));
    EXPECT_EQ(nearest >= 3, is_off) << turn;
  }
}

TEST(RaiseTouches, StayOffAnEdgeThatThreeTrianglesShare) {
  // A flat sheet with a fin under its middle line.
  Mesh finned = roof(7, 0);
  finned.vertices.insert(finned.vertices.end(), {{0, 0, -30}, {0, 300, -30}});
  finned.triangles.insert(finned.triangles.end(), {{1, 6, 7}, {1, 7, 4}});
  const auto raised = raise_touches(finned, over(rectangle(-9, -9, 9, 309)), {40, 0});
  ASSERT_FALSE(raised.touches.empty());
  for (const PointFeature& touch : raised.touches) EXPECT_GE(std::abs(touch.at.x()), 3);
}

TEST(RaiseTouches, TwoSidesUnder120DegreesApartAreSpacedAsOne) {
  // Their normals are 116 degrees apart.
  const Mesh ridge = roof(60, 60 * std::tan(58 * kDeg));
  const auto raised = raise_touches(ridge, over(rectangle(-99, -9, 99, 309)), {40, 0});
  ASSERT_GT(raised.touches.size(), 10u);
  for (const PointFeature& a : raised.touches)
    for (const PointFeature& b : raised.touches)
      if (&a != &b) EXPECT_GE((a.at - b.at).norm(), 40);
}

TEST(RaiseTouches, StandInTheOrderOfTheirCoordinates) {
  const auto raised = raise_touches(box({0, 0, 0}, {500, 400, 50}),
                                    within(Vec3::Constant(-1), Vec3::Constant(999)), {90, 3});
  const auto& touches = raised.touches;
  ASSERT_GT(touches.size(), 20u);
  for (std::size_t i = 1; i < touches.size(); ++i) {
    const Vec3 &a = touches[i - 1].at, &b = touches[i].at;
    EXPECT_TRUE(a.x() < b.x() ||
                (a.x() == b.x() && (a.y() < b.y() || (a.y() == b.y() && a.z() < b.z()))));
  }
}

TEST(RaiseTouches, HowATiltedFlatFaceIsCutDoesNotMatterToTheLastBit) {
  const Mesh coarse = moved(box({0, 0, 0}, {700, 500, 40}),
                            Pose(Eigen::AngleAxisd(0.3, Vec3(1, 2, 0.5).normalized())));
  const auto selection = within(Vec3::Constant(-2000), Vec3::Constant(2000));
  const auto before = raise_touches(coarse, selection, {90, 6});
  ASSERT_GT(before.touches.size(), 40u);
  for (std::size_t cuts = 1; cuts <= 2; ++cuts) {
    const auto after = raise_touches(cut_up(coarse, cuts), selection, {90, 6});
    ASSERT_EQ(after.touches.size(), before.touches.size());
    for (std::size_t k = 0; k < after.touches.size(); ++k)
      EXPECT_EQ(after.touches[k].at, before.touches[k].at) << k;
  }
}

TEST(RaiseTouches, ABallRestsAtEachEvenInACorner) {
  // Two blocks of one body form an inner corner along y.
  Mesh corner = box({0, 0, 0}, {300, 200, 50});
  append(corner, box({-50, 0, 0}, {0, 200, 250}));
  for (const double radius : {6.0, 19.05}) {
    const auto raised = raise_touches(corner, over(rectangle(0, 0, 300, 200)), {30, radius});
    ASSERT_FALSE(raised.touches.empty());
    double nearest = HUGE_VAL;
    for (const PointFeature& touch : raised.touches) {
      EXPECT_GE(off_mesh(touch.at + radius * touch.normal, corner), radius - 0.2 - 1e-9);
      nearest = std::min(nearest, touch.at.x());
    }
    EXPECT_GE(nearest, radius - 0.2);
    EXPECT_LE(nearest, radius + 30);
  }
}

TEST(RaiseTouches, BothSidesOfASheetAreSpacedEachByItself) {
  const Mesh sheet = box({0, 0, 0}, {400, 300, 8});
  const auto raised = raise_touches(sheet, within({10, 10, -1}, {390, 290, 9}), {100, 3});
  std::vector<PointFeature> top, bottom;
  for (const PointFeature& touch : raised.touches)
    (touch.normal.z() > 0 ? top : bottom).push_back(touch);
  Draw draw(4);
  for (int i = 0; i < 500; ++i) {
    const Vec3 p = draw.in_box({10, 10, 0}, {390, 290, 0});
    EXPECT_LE(off_touches(p, bottom), 100 * (1 + kStep)) << "seed 4, case " << i;
    EXPECT_LE(off_touches(p + 8 * Vec3::UnitZ(), top), 100 * (1 + kStep)) << "seed 4, case " << i;
  }
}

TEST(RaiseTouches, AStripNarrowerThanTheLinesStillHasTouches) {
  const Mesh rail = box({0, 0, 0}, {2000, 7, 30});
  const auto raised = raise_touches(rail, over(rectangle(-10, -10, 2010, 20)), {200, 3});
  EXPECT_GE(raised.touches.size(), 8u);
  // None where its edges leave no room.
  const Mesh wire = box({0, 0, 0}, {2000, 5, 30});
  EXPECT_EQ(raise_touches(wire, over(rectangle(-10, -10, 2010, 20)), {200, 3}).why_none,
            NoTouches::no_rest);
}

TEST(RaiseTouches, ASpacingLargerThanThePartGivesOneTouchInTheMiddle) {
  const Mesh plate = box({0, 0, 0}, {100, 60, 5});
  for (const double spacing : {200.0, 1e9}) {
    const auto raised = raise_touches(plate, over(rectangle(-10, -10, 200, 200)), {spacing, 3});
    ASSERT_EQ(raised.touches.size(), 1u);
    EXPECT_LE((raised.touches[0].at - Vec3(50, 30, 5)).norm(), 20);
  }
}

TEST(RaiseTouches, FacesAreSelectedByTheirIndex) {
  Mesh block = box({0, 0, 0}, {200, 150, 100});
  for (std::size_t t = 0; t < block.triangles.size(); ++t) {
    const auto [a, b, c] = block.corners(t);
    const Vec3 n = (b - a).cross(c - a).normalized();
    block.face_of_triangle.push_back(n.x() > 0.5 ? 1 : n.z() < -0.5 ? 2 : 0);
  }
  SurfaceSelection selection;
  selection.faces = {1};
  for (const PointFeature& touch : raise_touches(block, selection, {40, 3}).touches)
    EXPECT_EQ(touch.normal, Vec3::UnitX());
  selection.faces = {1, 2};
  bool is_below = false;
  for (const PointFeature& touch : raise_touches(block, selection, {40, 3}).touches) {
    EXPECT_TRUE(touch.normal == Vec3::UnitX() || touch.normal == -Vec3::UnitZ());
    is_below = is_below || touch.normal.z() < 0;
  }
  EXPECT_TRUE(is_below);
}

TEST(RaiseTouches, APolygonAndABoxAreThoseOfTheirFrame) {
  Draw draw(6);
  const Mesh plate = box({0, 0, 0}, {600, 400, 30});
  for (int i = 0; i < 20; ++i) {
    const Pose pose = Eigen::Translation3d(draw.in_box(Vec3::Constant(-900), Vec3::Constant(900))) *
                      Eigen::AngleAxisd(draw.between(0, 6), draw.direction());
    SurfaceSelection selection = over(rectangle(50, 50, 550, 350));
    selection.frame_from_world = pose.inverse();
    const auto raised = raise_touches(moved(plate, pose), selection, {80, 19.05});
    ASSERT_GT(raised.touches.size(), 15u) << "seed 6, case " << i;
    for (const PointFeature& touch : raised.touches) {
      const Vec3 at = selection.frame_from_world * touch.at;
      EXPECT_NEAR(at.z(), 30, 1e-5) << "seed 6, case " << i;
      EXPECT_TRUE(at.x() > 50 && at.x() < 550 && at.y() > 50 && at.y() < 350);
    }
    EXPECT_GE(nearest_two(raised.touches), 80);
    for (int k = 0; k < 100; ++k) {
      const Vec3 p = pose * draw.in_box({50, 50, 30}, {550, 350, 30});
      EXPECT_LE(off_touches(p, raised.touches), 80 * 1.25) << "seed 6, case " << i;
    }
  }
}

TEST(RaiseTouches, SaysWhyThereAreNone) {
  const Mesh plate = box({0, 0, 0}, {1000, 600, 50});
  EXPECT_EQ(raise_touches(plate, over(rectangle(2000, 0, 3000, 100)), {50, 3}).why_none,
            NoTouches::nothing_selected);
  EXPECT_EQ(raise_touches(plate, over(rectangle(0, 0, 1000, 600)), {5, 3}).why_none,
            NoTouches::too_many);
  // Few enough places to choose from, and still more than a thousand touches of them.
  EXPECT_EQ(raise_touches(plate, over(rectangle(0, 0, 1000, 600)), {18, 3}).why_none,
            NoTouches::too_many);
  EXPECT_EQ(raise_touches(plate, over(rectangle(0, 0, 1000, 600)), {1e-3, 3}).why_none,
            NoTouches::too_many);
  EXPECT_EQ(raise_touches(Mesh{}, within(Vec3::Zero(), Vec3::Ones()), {5, 3}).why_none,
            NoTouches::nothing_selected);
}

}  // namespace
}  // namespace standpoint::test
