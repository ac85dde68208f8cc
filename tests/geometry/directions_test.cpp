// The patches of directions that searches for a stylus walk over.

#include "geometry/directions.h"
#include "geometry/vec.h"
#include "tests/draw.h"

#include <gtest/gtest.h>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/convex_hull_3.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

namespace standpoint {
namespace {

constexpr double kDeg = std::numbers::pi / 180;
constexpr int kFinest = DirectionPatch::kFinestLevel;

/// The finest patch that holds a direction, by the definition: the cube's face by the largest
/// coordinate, equal angles across it. Shares no code with the program.
std::uint32_t patch_by_definition(const Vec3& d) {
  Eigen::Index axis = 0;
  d.cwiseAbs().maxCoeff(&axis);
  const bool is_negative = d[axis] < 0;
  const int face = static_cast<int>(axis) + (is_negative ? 3 : 0);
  const double across = d[(axis + 1) % 3] / d[axis];
  const double up = d[(axis + 2) % 3] / std::abs(d[axis]);
  const auto cell = [](double tangent) {
    const double share = std::atan(tangent) / (std::numbers::pi / 2) + 0.5;
    return std::clamp(static_cast<int>(share * 64), 0, 63);
  };
  return static_cast<std::uint32_t>((face * 64 + cell(across)) * 64 + cell(up));
}

TEST(Directions, NoneIsFartherThanItsPatchsRadiusFromThePatchsCentre) {
  const std::uint64_t seed = 20;
  test::Draw draw(seed);
  const auto& centres = finest_directions();
  const double bound = DirectionPatch{0, kFinest, 0, 0}.radius_rad();
  double most = 0;
  for (int i = 0; i < 300000; ++i) {
    const Vec3 d = draw.direction();
    const double off = angle_between(d, centres[patch_by_definition(d)]);
    most = std::max(most, off);
    ASSERT_LE(off, bound) << "seed " << seed << ", draw " << i;
  }
  EXPECT_GT(most, 0.9 * bound) << "the bound is no larger than it need be";
}

TEST(Directions, NoneIsFartherThan0995DegreesFromTheNearestCentre) {
  // The direction farthest from all centres is the middle of a circle through three of them that
  // holds no other; such circles are the faces of the centres' convex hull. So this is the greatest
  // of all directions, not of a sample.
  using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
  std::vector<Kernel::Point_3> points;
  for (const Vec3& c : finest_directions()) points.emplace_back(c.x(), c.y(), c.z());
  CGAL::Surface_mesh<Kernel::Point_3> hull;
  CGAL::convex_hull_3(points.begin(), points.end(), hull);
  ASSERT_EQ(hull.number_of_vertices(), points.size());
  double most = 0;
  for (const auto face : hull.faces()) {
    std::vector<Vec3> corners;
    for (const auto v : hull.vertices_around_face(hull.halfedge(face))) {
      const auto& p = hull.point(v);
      corners.emplace_back(p.x(), p.y(), p.z());
    }
    const Vec3 middle = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
    most = std::max(most, angle_between(middle, corners[0]));
  }
  EXPECT_LE(most, 0.995 * kDeg);
  EXPECT_GT(most, 0.99 * kDeg);
}

TEST(Directions, The24576FinestCentresAreUnitAndDistinct) {
  const auto& centres = finest_directions();
  ASSERT_EQ(centres.size(), 24576u);
  ASSERT_EQ(DirectionPatch::kFinestCount, 24576u);
  std::set<std::array<double, 3>> distinct;
  for (const Vec3& c : centres) {
    EXPECT_NEAR(c.norm(), 1, 1e-15);
    distinct.insert({c.x(), c.y(), c.z()});
  }
  EXPECT_EQ(distinct.size(), centres.size());
}

TEST(Directions, FinestCentresAreEverywhereAlike) {
  // The smallest patch is at a corner of the cube, the largest at the middle of a face.
  double least = 10;
  const auto& centres = finest_directions();
  for (std::size_t i = 1; i < centres.size(); ++i) {
    if (i % 64 != 0) least = std::min(least, angle_between(centres[i - 1], centres[i]));
  }
  EXPECT_GT(least, 0.9 * kDeg);
  EXPECT_LT(least, 1.41 * kDeg) << "equal angles: 90 / 64 degrees along the middle of a face";
}

TEST(Directions, APatchHoldsItsChildrenAndIsFoundByItsNumber) {
  for (int level = 0; level <= kFinest; ++level) {
    for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); ++k) {
      const DirectionPatch patch = DirectionPatch::of_index(level, k);
      ASSERT_EQ(patch.index(), k);
      ASSERT_EQ(patch.level, level);
      ASSERT_LT(patch.face, 6);
      for (const Vec3& corner : patch.corners()) {
        ASSERT_LE(angle_between(corner, patch.centre()), patch.radius_rad() + 1e-12);
      }
      if (level == kFinest) continue;
      for (int which = 0; which < 4; ++which) {
        const DirectionPatch child = patch.child(which);
        ASSERT_EQ(child.ancestor(level).index(), k);
        // The child's centre lies inside the parent: on the inner side of all four sides.
        const auto corners = patch.corners();
        int inside = 0;
        for (std::size_t c = 0; c < 4; ++c) {
          const Vec3 side = corners[c].cross(corners[(c + 1) % 4]);
          inside += side.dot(patch.centre()) * side.dot(child.centre()) > 0;
        }
        ASSERT_EQ(inside, 4);
      }
    }
  }
}

TEST(Directions, AnyFinestWithinVisitsExactlyThoseWithin) {
  const std::uint64_t seed = 22;
  test::Draw draw(seed);
  const auto& centres = finest_directions();
  for (int i = 0; i < 150; ++i) {
    const Vec3 axis = i < 3 ? Vec3(Vec3::Unit(i)) : draw.direction();
    const double angle_rad = i % 5 == 0 ? draw.between(0, 180 * kDeg) : draw.between(0, 20 * kDeg);
    std::set<std::uint32_t> expected, visited;
    for (std::uint32_t k = 0; k < centres.size(); ++k) {
      if (angle_between(axis, centres[k]) <= angle_rad) expected.insert(k);
    }
    const bool stopped = any_finest_within(axis, angle_rad, [&](std::uint32_t index) {
      EXPECT_TRUE(visited.insert(index).second) << "visited twice";
      return false;
    });
    EXPECT_FALSE(stopped);
    ASSERT_EQ(visited, expected) << "seed " << seed << ", case " << i;
    // It stops at the first that is wanted.
    int visits = 0;
    EXPECT_EQ(any_finest_within(axis, angle_rad, [&](std::uint32_t) { return ++visits == 2; }),
              expected.size() >= 2);
    EXPECT_LE(visits, 2);
  }
}

TEST(Directions, ADiscOfTwoDegreesHoldsACentre) {
  const std::uint64_t seed = 23;
  test::Draw draw(seed);
  for (int i = 0; i < 20000; ++i) {
    ASSERT_TRUE(
        any_finest_within(draw.direction(), 0.995 * kDeg, [](std::uint32_t) { return true; }))
        << "seed " << seed << ", draw " << i;
  }
}

}  // namespace
}  // namespace standpoint
