// How a part can stand on a floor: parts whose answer is plain, and turned boxes.

#include "planner/part/rest.h"

#include <algorithm>
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/draw.h"

namespace standpoint {
namespace {

using testing::IsEmpty;

/// Adds a box, its faces outward.
void add_box(Mesh& mesh, const Vec3& low, const Vec3& high) {
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (int corner = 0; corner < 8; ++corner)
    mesh.vertices.emplace_back((corner & 1) != 0 ? high.x() : low.x(),
                               (corner & 2) != 0 ? high.y() : low.y(),
                               (corner & 4) != 0 ? high.z() : low.z());
  const std::uint32_t faces[12][3] = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6},
                                      {0, 1, 5}, {0, 5, 4}, {2, 6, 7}, {2, 7, 3},
                                      {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
  for (const auto& face : faces)
    mesh.triangles.push_back({first + face[0], first + face[1], first + face[2]});
}

Mesh box(const Vec3& low, const Vec3& high) {
  Mesh mesh;
  add_box(mesh, low, high);
  return mesh;
}

TEST(Rest, ABoxStandsOnEachOfItsFacesTheLargestFirst) {
  const auto ways = ways_to_stand(box({0, 0, 0}, {300, 200, 100}));
  ASSERT_EQ(ways.size(), 6u);
  EXPECT_EQ(ways[0].area, 300 * 200);
  EXPECT_EQ(std::abs(ways[0].down.z()), 1);
  EXPECT_EQ(ways[2].area, 300 * 100);
  EXPECT_EQ(ways[5].area, 200 * 100);
}

TEST(Rest, APartThatWouldTipDoesNotStand) {
  // A plate 400 wide on a foot at its one end: the foot's underside does not carry it.
  Mesh mesh = box({0, 0, 100}, {400, 100, 120});
  add_box(mesh, {0, 0, 0}, {60, 100, 100});
  for (const Rest& way : ways_to_stand(mesh))
    EXPECT_GT((way.down - Vec3(0, 0, -1)).norm(), 0.1) << way.down.transpose();
  // A second foot at the other end, and it does: both carry.
  add_box(mesh, {360, 0, 0}, {400, 100, 100});
  const auto ways = ways_to_stand(mesh);
  const auto down = std::find_if(ways.begin(), ways.end(),
                                 [](const Rest& way) { return way.down == Vec3(0, 0, -1); });
  ASSERT_NE(down, ways.end());
  EXPECT_NEAR(down->area, (60 + 40) * 100, 1e-9);
}

TEST(Rest, AFaceThatThePartReachesThroughCarriesNothing) {
  Mesh mesh = box({0, 0, 0}, {300, 200, 100});
  add_box(mesh, {140, 90, -5}, {160, 110, 0});  // a pin out of the middle of the large face
  const auto ways = ways_to_stand(mesh);
  ASSERT_EQ(ways.size(), 6u);
  EXPECT_EQ(ways[0].down, Vec3(0, 0, 1));
  // It balances on the pin, and on nothing else of that side.
  EXPECT_EQ(ways[5].down, Vec3(0, 0, -1));
  EXPECT_EQ(ways[5].area, 20 * 20);
}

TEST(Rest, ASheetStandsOnItsSide) {
  Mesh mesh;
  mesh.vertices = {{0, 0, 0}, {100, 0, 0}, {100, 50, 0}, {0, 50, 0}};
  mesh.triangles = {{0, 2, 1}, {0, 3, 2}};
  const auto ways = ways_to_stand(mesh);
  ASSERT_EQ(ways.size(), 1u);
  EXPECT_EQ(ways[0].down, Vec3(0, 0, -1));
  EXPECT_EQ(ways[0].area, 5000);
}

TEST(Rest, NothingAndDustStandNowhere) {
  EXPECT_THAT(ways_to_stand(Mesh{}), IsEmpty());
  Mesh dust;
  dust.vertices = {{1, 2, 3}, {1, 2, 3}, {4, 5, 6}};
  dust.triangles = {{0, 1, 2}, {0, 0, 0}};
  EXPECT_THAT(ways_to_stand(dust), IsEmpty());
}

TEST(Rest, ABallStandsOnNoneOfItsManyFacetsBetterThanOnAFlat) {
  // A drum of 600 strips, capped: it stands on its caps first.
  constexpr std::uint32_t kStrips = 600;
  Mesh mesh;
  for (std::uint32_t i = 0; i < kStrips; ++i) {
    const double turn = 2 * 3.14159265358979 * i / kStrips;
    for (const double z : {0.0, 50.0})
      mesh.vertices.emplace_back(100 * std::cos(turn), 100 * std::sin(turn), z);
  }
  mesh.vertices.emplace_back(0, 0, 0);
  mesh.vertices.emplace_back(0, 0, 50);
  for (std::uint32_t i = 0; i < kStrips; ++i) {
    const std::uint32_t a = 2 * i, b = 2 * ((i + 1) % kStrips);
    mesh.triangles.push_back({a, b, b + 1});
    mesh.triangles.push_back({a, b + 1, a + 1});
    mesh.triangles.push_back({2 * kStrips, b, a});
    mesh.triangles.push_back({2 * kStrips + 1, a + 1, b + 1});
  }
  const auto ways = ways_to_stand(mesh);
  ASSERT_GE(ways.size(), 2u);
  EXPECT_EQ(std::abs(ways[0].down.z()), 1);
  EXPECT_EQ(std::abs(ways[1].down.z()), 1);
  EXPECT_NEAR(ways[0].area, 3.14159 * 100 * 100, 10);
}

TEST(Rest, ATurnedAndMovedBoxStandsOnTheSameFaces) {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    const Vec3 size = draw.in_box({100, 100, 100}, {900, 900, 900});
    Mesh mesh = box(Vec3::Zero(), size);
    const Eigen::AngleAxisd turn(draw.between(0, 3), draw.direction());
    const Vec3 shift = draw.in_box(5000);
    for (Vec3& vertex : mesh.vertices) vertex = turn * vertex + shift;
    const auto ways = ways_to_stand(mesh);
    ASSERT_EQ(ways.size(), 6u);
    double areas[3] = {size.x() * size.y(), size.y() * size.z(), size.x() * size.z()};
    std::sort(std::begin(areas), std::end(areas));
    EXPECT_NEAR(ways[0].area, areas[2], 1e-6 * areas[2]);
    EXPECT_NEAR(ways[5].area, areas[0], 1e-6 * areas[0]);
    // Each is one of the box's faces, turned.
    for (const Rest& way : ways)
      EXPECT_NEAR((turn.inverse() * way.down).cwiseAbs().maxCoeff(), 1, 1e-9);
  }
}

}  // namespace
}  // namespace standpoint
