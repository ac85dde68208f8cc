#include "planner/part/plane_points.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "tests/draw.h"

namespace standpoint {
namespace {

/// How far the points lie apart across `across`, mm.
double width(const std::vector<Vec3>& points, const Vec3& across) {
  double low = 1e9, high = -1e9;
  for (const Vec3& p : points) {
    low = std::min(low, across.dot(p));
    high = std::max(high, across.dot(p));
  }
  return high - low;
}

TEST(PlanePoints, OfALongStripAreNotLeftInOneLineByRounding) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    test::Draw draw(seed);
    const double wide = draw.between(2, 30), length = draw.between(60, 400) * wide;
    const Vec3 normal = draw.direction();
    const Vec3 along = any_perpendicular(normal), across = normal.cross(along);
    const Vec3 at = draw.in_box(8000);
    Surface plane;
    plane.at = at;
    plane.axis = normal;
    const std::vector<std::vector<Vec3>> rims{
        {at, at + length * along, at + length * along + wide * across, at + wide * across}};
    const std::vector<Vec3> points = points_inside(plane, rims);
    ASSERT_GE(points.size(), 4U) << "seed " << seed;
    EXPECT_GT(width(points, across), 0.4 * wide) << "seed " << seed;
  }
}

}  // namespace
}  // namespace standpoint
