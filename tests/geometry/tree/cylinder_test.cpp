#include <CGAL/Simple_cartesian.h>
#include <CGAL/squared_distance_2.h>
#include <gtest/gtest.h>

#include "geometry/tree/tree.h"
#include "tests/geometry/random_scene.h"

namespace standpoint::test {
namespace {

using Kernel = CGAL::Simple_cartesian<long double>;
using Point2 = Kernel::Point_2;

Cylinder upright(const Vec3& centre, double radius, double above, double below) {
  return {centre, Vec3::UnitZ(), radius, above, below};
}

/// How far, seen from above, the slice of a triangle at one height is from a point. Oracle only.
long double slice_distance(const std::array<Vec3, 3>& t, long double height, const Point2& from) {
  long double least = std::numeric_limits<long double>::infinity();
  std::vector<Point2> slice;
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3 &a = t[i], &b = t[(i + 1) % 3];
    const long double za = a.z(), zb = b.z();
    if (std::min(za, zb) > height || std::max(za, zb) < height) continue;
    if (za == zb) {
      slice.emplace_back(a.x(), a.y());
      slice.emplace_back(b.x(), b.y());
      continue;
    }
    const long double f = (height - za) / (zb - za);
    slice.emplace_back(a.x() + f * (static_cast<long double>(b.x()) - a.x()),
                       a.y() + f * (static_cast<long double>(b.y()) - a.y()));
  }
  for (const Point2& p : slice) {
    for (const Point2& q : slice) {
      const auto squared = p == q ? CGAL::squared_distance(from, p)
                                  : CGAL::squared_distance(from, Kernel::Segment_2(p, q));
      least = std::min(least, squared);
    }
  }
  return std::sqrt(least);
}

/// Distance from above, over the part of the triangle between the cylinder's ends; infinite where
/// there is none. Convex in the height: golden section.
long double distance_between(const std::array<Vec3, 3>& t, const Cylinder& cylinder) {
  const Point2 from(cylinder.centre.x(), cylinder.centre.y());
  long double low = std::min({t[0].z(), t[1].z(), t[2].z()});
  long double high = std::max({t[0].z(), t[1].z(), t[2].z()});
  const long double bottom = cylinder.centre.z() - cylinder.below;
  const long double top = cylinder.centre.z() + cylinder.above;
  if (low == high) {
    if (low < bottom || low > top) return std::numeric_limits<long double>::infinity();
    const auto at = [](const Vec3& v) { return Point2(v.x(), v.y()); };
    const Kernel::Triangle_2 flat(at(t[0]), at(t[1]), at(t[2]));
    long double least = slice_distance(t, low, from);
    if (!flat.is_degenerate() && !flat.has_on_unbounded_side(from)) least = 0;
    return least;
  }
  low = std::max(low, bottom);
  high = std::min(high, top);
  if (low > high) return std::numeric_limits<long double>::infinity();
  long double least = std::min(slice_distance(t, low, from), slice_distance(t, high, from));
  for (int i = 0; i < 200; ++i) {
    const long double third = (high - low) / 3;
    const long double at_a = slice_distance(t, low + third, from);
    const long double at_b = slice_distance(t, high - third, from);
    least = std::min({least, at_a, at_b});
    (at_a < at_b ? high : low) += at_a < at_b ? -third : third;
  }
  return least;
}

TEST(TreeCylinder, CutWhereASliceOfSomeTriangleComesWithinTheRadius) {
  int cut = 0, free = 0;
  for (int s = 0; s < static_cast<int>(SceneKind::kCount); ++s) {
    const auto kind = static_cast<SceneKind>(s);
    Draw draw(300 + static_cast<std::uint64_t>(s));
    const std::vector<Mesh> scene = make_scene(kind, 60, draw);
    const Tree tree(pointers(scene));
    for (int i = 0; i < 60; ++i) {
      SCOPED_TRACE(testing::Message() << "seed " << 300 + s << ", " << name_of(kind) << ", " << i);
      const Mesh& mesh = scene[draw.below(scene.size())];
      if (mesh.vertices.empty()) continue;
      const Vec3 near = mesh.vertices[draw.below(mesh.vertices.size())];
      const Cylinder cylinder = upright(near + draw.size(1, 1000) * draw.direction(),
                                        draw.size(1, 400), draw.size(1, 400), draw.size(1, 400));
      long double least = std::numeric_limits<long double>::infinity();
      for (const Mesh& body : scene) {
        for (std::size_t t = 0; t < body.triangles.size(); ++t) {
          least = std::min(least, distance_between(body.corners(t), cylinder));
        }
      }
      if (std::abs(static_cast<double>(least) - cylinder.radius) < 1e-6) continue;
      const bool expected = least < cylinder.radius;
      ++(expected ? cut : free);
      ASSERT_EQ(tree.is_cut_by(cylinder), expected) << "distance " << static_cast<double>(least);
    }
  }
  EXPECT_GT(cut, 50);
  EXPECT_GT(free, 50);
}

// By hand: a plate above the top by less than the radius is in the capsule, not in the cylinder.
TEST(TreeCylinder, AFlatTopIsNoDome) {
  Mesh plate;
  plate.vertices = {{-50, -50, 110}, {50, -50, 110}, {0, 80, 110}};
  plate.triangles = {{0, 1, 2}};
  const Tree tree({&plate});
  EXPECT_FALSE(tree.is_cut_by(upright({0, 0, 0}, 50, 109, 100)));
  EXPECT_TRUE(tree.is_cut_by(upright({0, 0, 0}, 50, 111, 100)));
}

// By hand: a plate that touches the wall counts as cut ("inside or on the cylinder").
TEST(TreeCylinder, TouchingIsCutting) {
  Mesh plate;
  plate.vertices = {{50, -50, -10}, {50, 50, -10}, {50, 0, 80}};
  plate.triangles = {{0, 1, 2}};
  const Tree tree({&plate});
  EXPECT_TRUE(tree.is_cut_by(upright({0, 0, 0}, 50, 100, 100)));
  EXPECT_FALSE(tree.is_cut_by(upright({0, 0, 0}, 49.999, 100, 100)));
}

// A cylinder without size is its centre: any triangle through that point cuts it, however it lies.
TEST(TreeCylinder, WithoutSizeItIsCutByWhateverRunsThroughItsCentre) {
  Draw draw(41);
  for (int i = 0; i < 500; ++i) {
    SCOPED_TRACE(testing::Message() << "seed 41, case " << i);
    Mesh mesh;
    for (int corner = 0; corner < 3; ++corner)
      mesh.vertices.push_back(draw.size(1, 3000) * draw.direction());
    if (i % 3 == 1) mesh.vertices[2].head<2>() = mesh.vertices[0].head<2>();  // upright
    if (i % 3 == 2) mesh.vertices[2].z() = mesh.vertices[1].z() = mesh.vertices[0].z();
    mesh.triangles = {{0, 1, 2}};
    double a = draw.between(0, 1), b = draw.between(0, 1);
    if (a + b > 1) a = 1 - a, b = 1 - b;
    const Vec3 within = mesh.vertices[0] + a * (mesh.vertices[1] - mesh.vertices[0]) +
                        b * (mesh.vertices[2] - mesh.vertices[0]);
    const Tree tree({&mesh});
    EXPECT_TRUE(tree.is_cut_by(upright(within, 0, 0, 0)));
    const Vec3 square = (mesh.vertices[1] - mesh.vertices[0])
                            .cross(mesh.vertices[2] - mesh.vertices[0])
                            .normalized();
    EXPECT_FALSE(tree.is_cut_by(upright(within + 0.001 * square, 0, 0, 0)));
  }
}

// The oracle knows only upright cylinders: asked is the same with everything turned.
TEST(TreeCylinder, TurnedWithEverythingElseItIsCutAlike) {
  int cut = 0, free = 0;
  for (std::uint64_t seed = 700; seed < 740; ++seed) {
    Draw draw(seed);
    const auto kind = static_cast<SceneKind>(seed % static_cast<std::uint64_t>(SceneKind::kCount));
    const std::vector<Mesh> scene = make_scene(kind, 40, draw);
    const Eigen::AngleAxisd turn(draw.between(0.1, 3.1), draw.direction());
    const Vec3 axis = turn * Vec3::UnitZ();
    std::vector<Mesh> turned = scene;
    for (Mesh& mesh : turned)
      for (Vec3& vertex : mesh.vertices) vertex = turn * vertex;
    const Tree tree(pointers(turned));
    for (int i = 0; i < 30; ++i) {
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", " << name_of(kind) << ", " << i);
      const Mesh& mesh = scene[draw.below(scene.size())];
      if (mesh.vertices.empty()) continue;
      const Vec3 near = mesh.vertices[draw.below(mesh.vertices.size())];
      const Cylinder cylinder = upright(near + draw.size(1, 600) * draw.direction(),
                                        draw.size(1, 400), draw.size(1, 400), draw.size(1, 400));
      const auto least_for = [&](double longer) {
        Cylinder asked = cylinder;
        asked.above += longer;
        asked.below += longer;
        long double least = std::numeric_limits<long double>::infinity();
        for (const Mesh& body : scene)
          for (std::size_t t = 0; t < body.triangles.size(); ++t)
            least = std::min(least, distance_between(body.corners(t), asked));
        return static_cast<double>(least);
      };
      // Within rounding of a side or an end either answer is right.
      const bool expected = least_for(0) < cylinder.radius;
      if (expected != (least_for(1e-6) < cylinder.radius + 1e-6)) continue;
      if (expected != (least_for(-1e-6) < cylinder.radius - 1e-6)) continue;
      ++(expected ? cut : free);
      Cylinder asked = cylinder;
      asked.centre = turn * cylinder.centre;
      asked.axis = axis;
      ASSERT_EQ(tree.is_cut_by(asked), expected);
    }
  }
  EXPECT_GT(cut, 50);
  EXPECT_GT(free, 50);
}

/// How deep a place stands in a cylinder; negative outside. Oracle only.
double depth_at(const Cylinder& cylinder, const Vec3& place) {
  const Vec3 from = place - cylinder.centre;
  const double along = from.dot(cylinder.axis);
  const double off = (from - along * cylinder.axis).norm();
  return std::min({cylinder.radius - off, cylinder.above - along, along + cylinder.below});
}

// The triangle is laid out in places; none of its points is farther than `step` from one, and a
// depth changes by no more than the distance.
TEST(TreeCylinder, HowDeepATriangleStandsIsThatOfItsDeepestPlace) {
  int deep = 0, not_deep = 0;
  for (int i = 0; i < 600; ++i) {
    SCOPED_TRACE(testing::Message() << "seed 43, case " << i);
    Draw draw(4300 + static_cast<std::uint64_t>(i));
    const Cylinder cylinder{draw.size(1, 500) * draw.direction(), draw.direction(),
                            draw.between(5, 60), draw.between(0, 60), draw.between(0, 60)};
    Mesh mesh;
    for (int corner = 0; corner < 3; ++corner)
      mesh.vertices.push_back(cylinder.centre + draw.size(1, 150) * draw.direction());
    mesh.triangles = {{0, 1, 2}};
    constexpr int kSteps = 120;
    const auto& [a, b, c] = mesh.corners(0);
    double sampled = -std::numeric_limits<double>::infinity();
    for (int u = 0; u <= kSteps; ++u)
      for (int v = 0; u + v <= kSteps; ++v)
        sampled =
            std::max(sampled, depth_at(cylinder, a + u * (b - a) / kSteps + v * (c - a) / kSteps));
    const double step = ((b - a).norm() + (c - a).norm()) / kSteps;
    const double asked = draw.between(0, 10);
    const Tree tree({&mesh});
    const auto found = tree.deepest_in(cylinder, asked);
    if (sampled > asked + 1e-6) {
      ASSERT_TRUE(found.has_value()) << "a place of it stands " << sampled << " deep";
    }
    if (sampled + step < asked) {
      ASSERT_FALSE(found.has_value());
    }
    ++(found ? deep : not_deep);
    if (!found) continue;
    const double depth = -found->nearest.margin;
    EXPECT_GE(depth, sampled - 1e-5);
    EXPECT_LE(depth, sampled + step);
    EXPECT_NEAR(depth_at(cylinder, found->nearest.at), depth, 1e-4);
  }
  EXPECT_GT(deep, 50);
  EXPECT_GT(not_deep, 50);
}

// By hand: a plate that the cylinder stands on touches it, at depth 0; 1 mm higher it is 1 mm deep.
TEST(TreeCylinder, APlateUnderItTouchesItAndStandsNoDeeper) {
  Mesh plate;
  plate.vertices = {{-500, -500, 100}, {500, -500, 100}, {0, 800, 100}};
  plate.triangles = {{0, 1, 2}};
  const Tree tree({&plate});
  EXPECT_FALSE(tree.deepest_in({{0, 0, 100}, Vec3::UnitZ(), 16, 11, 0}, 0).has_value());
  EXPECT_TRUE(tree.is_cut_by(upright({0, 0, 100}, 16, 11, 0)));
  const auto found = tree.deepest_in({{0, 0, 99}, Vec3::UnitZ(), 16, 11, 0}, 0);
  ASSERT_TRUE(found.has_value());
  EXPECT_NEAR(found->nearest.margin, -1, 1e-5);
  EXPECT_FALSE(tree.deepest_in({{0, 0, 99}, Vec3::UnitZ(), 16, 11, 0}, 1).has_value());
}

}  // namespace
}  // namespace standpoint::test
