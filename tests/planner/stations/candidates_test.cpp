#include <algorithm>

#include <gtest/gtest.h>

#include "planner/stations/candidates.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

Zone zone_over(std::vector<Vec2> polygon, double spacing, std::vector<double> heights = {0}) {
  Zone zone;
  zone.polygon = std::move(polygon);
  zone.spacing = spacing;
  zone.heights = std::move(heights);
  return zone;
}

/// The zone of contract section 2: 13 places along x, 5 along y, two heights.
Zone south_aisle() {
  return zone_over({{-1000, -4000}, {5000, -4000}, {5000, -2000}, {-1000, -2000}}, 500,
                   {1100, 1500});
}

TEST(ZoneGrid, TheContractsAisleHas130Places) {
  const std::vector<Vec3> grid = zone_grid(south_aisle());
  EXPECT_EQ(grid.size(), 13U * 5U * 2U);
  EXPECT_EQ(grid.front(), Vec3(-1000, -4000, 1100));
  EXPECT_EQ(grid.back(), Vec3(5000, -2000, 1500));
}

TEST(ZoneGrid, RunsByXThenYThenTheHeightsAsListed) {
  Zone zone = zone_over({{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 1, {7, 3});
  zone.floor = 100;
  EXPECT_EQ(zone_grid(zone), (std::vector<Vec3>{{0, 0, 107},
                                                {0, 0, 103},
                                                {0, 1, 107},
                                                {0, 1, 103},
                                                {1, 0, 107},
                                                {1, 0, 103},
                                                {1, 1, 107},
                                                {1, 1, 103}}));
}

TEST(ZoneGrid, OrientationChangesNothing) {
  Zone zone = south_aisle();
  const std::vector<Vec3> grid = zone_grid(zone);
  std::reverse(zone.polygon.begin(), zone.polygon.end());
  EXPECT_EQ(zone_grid(zone), grid);
}

// x + y <= 4 has 1 + 2 + 3 + 4 + 5 points with whole coordinates >= 0, those on the long edge
// included.
TEST(ZoneGrid, PlacesOnASlantedEdgeAreIn) {
  EXPECT_EQ(zone_grid(zone_over({{0, 0}, {4, 0}, {0, 4}}, 1)).size(), 15U);
}

// An L of a 6 x 2 and a 2 x 4 rectangle: 7 x 3 points and 3 x 4 above them.
TEST(ZoneGrid, ConcavePolygonLosesItsNotch) {
  const std::vector<Vec3> grid =
      zone_grid(zone_over({{0, 0}, {6, 0}, {6, 2}, {2, 2}, {2, 6}, {0, 6}}, 1));
  EXPECT_EQ(grid.size(), 7U * 3U + 3U * 4U);
  const auto holds = [&](double x, double y) {
    return std::find(grid.begin(), grid.end(), Vec3(x, y, 0)) != grid.end();
  };
  EXPECT_TRUE(holds(2, 6));
  EXPECT_TRUE(holds(6, 2));
  EXPECT_TRUE(holds(2, 2));  // the inner corner
  EXPECT_FALSE(holds(3, 3));
}

TEST(ZoneGrid, SpacingBeyondThePolygonLeavesItsCornerIfThatIsIn) {
  const std::vector<Vec3> grid = zone_grid(zone_over({{1, 2}, {3, 2}, {3, 4}, {1, 4}}, 10));
  EXPECT_EQ(grid, (std::vector<Vec3>{{1, 2, 0}}));
  EXPECT_TRUE(zone_grid(zone_over({{2, 0}, {4, 2}, {2, 4}, {0, 2}}, 10)).empty());
}

// From 5.5 in to 25.5 in every 20 in: in mm the far side is at 647.6999999999999 in double, the
// line at 5.5 * 25.4 + 20 * 25.4 = 647.7. It must not be lost.
TEST(ZoneGrid, LastLineSurvivesTheConversionToMillimetres) {
  const double low = 5.5 * 25.4, high = 25.5 * 25.4, spacing = 20 * 25.4;
  ASSERT_LT(high, low + spacing);
  const std::vector<Vec3> grid =
      zone_grid(zone_over({{low, low}, {high, low}, {high, high}, {low, high}}, spacing));
  EXPECT_EQ(grid.size(), 4U);
  EXPECT_EQ(grid.back(), Vec3(high, high, 0));
}

// Summed up, 0.1 thirty times gives 3.0000000000000013 and loses the last line.
TEST(ZoneGrid, LinesAreMultipliedNotSummed) {
  const std::vector<Vec3> grid = zone_grid(zone_over({{0, 0}, {3, 0}, {3, 0.05}, {0, 0.05}}, 0.1));
  ASSERT_EQ(grid.size(), 31U);
  for (std::size_t i = 0; i < 30; ++i) EXPECT_EQ(grid[i].x(), static_cast<double>(i) * 0.1);
}

/// An upright square plate of 200 mm at x = 1000, from z = 0 to 200.
Mesh plate() {
  Mesh mesh;
  mesh.vertices = {{1000, -100, 0}, {1000, 100, 0}, {1000, 100, 200}, {1000, -100, 200}};
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  return mesh;
}

test::MadeScene scene_with_plate() {
  test::MadeScene scene;
  test::add_body(scene, "plate", plate());
  scene.instrument.body_radius = 150;
  scene.instrument.body_above = 100;
  scene.instrument.body_below = 300;
  return scene;
}

TEST(Candidates, WhereTheBodyCutsAMeshTheyAreDroppedAndCounted) {
  test::MadeScene scene = scene_with_plate();
  scene.fixed_stations = {
      {"clear", {500, 0, 300}, false},     // 500 mm before the plate
      {"beside", {900, 0, 300}, false},    // 100 mm before it, the body reaches 150
      {"above", {1000, 0, 501}, false},    // the body's bottom is 1 mm over the plate's top
      {"into it", {1000, 0, 499}, false},  // and 1 mm below it
      {"below", {1000, 0, -101}, false},   // its top is 1 mm under the plate
  };
  const Cell cell = test::cell_of(scene);
  const Candidates candidates = generate_candidates(cell);
  EXPECT_EQ(candidates.tally.tried, 5);
  EXPECT_EQ(candidates.tally.body_collides, 2);
  EXPECT_EQ(candidates.tally.duplicate, 0);
  ASSERT_EQ(candidates.kept.size(), 3U);
  EXPECT_EQ(candidates.kept[0].name, "clear");
  EXPECT_EQ(candidates.kept[1].name, "above");
  EXPECT_EQ(candidates.kept[2].name, "below");
}

TEST(Candidates, WithoutABodyAMeshThroughTheMeasuringCentreDropsThem) {
  test::MadeScene scene = scene_with_plate();
  scene.instrument.body_radius = scene.instrument.body_above = scene.instrument.body_below = 0;
  scene.fixed_stations = {{"in the plate", {1000, 0, 100}, false},
                          {"before the plate", {999, 0, 100}, false}};
  const Cell cell = test::cell_of(scene);
  const Candidates candidates = generate_candidates(cell);
  ASSERT_EQ(candidates.kept.size(), 1U);
  EXPECT_EQ(candidates.kept[0].name, "before the plate");
  EXPECT_EQ(candidates.tally.body_collides, 1);
}

/// A block of 4 m, and three places for an instrument of 150 mm.
test::MadeScene scene_with_block(const Mesh& block) {
  test::MadeScene scene;
  test::add_body(scene, "block", block);
  scene.instrument.body_radius = 150;
  scene.instrument.body_above = 100;
  scene.instrument.body_below = 300;
  scene.fixed_stations = {{"inside", {2000, 2000, 2000}, false},
                          {"cuts the side", {3900, 2000, 2000}, false},
                          {"outside", {5000, 2000, 2000}, false}};
  return scene;
}

TEST(Candidates, APlaceInsideAClosedBodyIsDroppedUnderItsOwnReason) {
  const test::MadeScene scene = scene_with_block(test::box({0, 0, 0}, {4000, 4000, 4000}));
  const Candidates candidates = generate_candidates(test::cell_of(scene));
  EXPECT_EQ(candidates.tally.tried, 3);
  EXPECT_EQ(candidates.tally.body_collides, 1);
  EXPECT_EQ(candidates.tally.inside_body, 1);
  ASSERT_EQ(candidates.kept.size(), 1U);
  EXPECT_EQ(candidates.kept[0].name, "outside");
}

TEST(Candidates, InAnOpenBodyAPlaceStays) {
  Mesh open = test::box({0, 0, 0}, {4000, 4000, 4000});
  open.triangles.pop_back();
  const Candidates candidates = generate_candidates(test::cell_of(scene_with_block(open)));
  EXPECT_EQ(candidates.tally.inside_body, 0);
  ASSERT_EQ(candidates.kept.size(), 2U);
  EXPECT_EQ(candidates.kept[0].name, "inside");
}

TEST(Candidates, InAHallWhoseWallsFaceInwardAPlaceStays) {
  Mesh hall = test::box({0, 0, 0}, {4000, 4000, 4000});
  for (auto& triangle : hall.triangles) std::swap(triangle[0], triangle[1]);
  const Candidates candidates = generate_candidates(test::cell_of(scene_with_block(hall)));
  EXPECT_EQ(candidates.tally.inside_body, 0);
  EXPECT_EQ(candidates.kept.size(), 2U);
}

TEST(Candidates, AKeptPlaceInsideABodyStaysAndIsTold) {
  test::MadeScene scene = scene_with_block(test::box({0, 0, 0}, {4000, 4000, 4000}));
  scene.fixed_stations[0].keep = true;
  const Candidates candidates = generate_candidates(test::cell_of(scene));
  EXPECT_EQ(candidates.tally.inside_body, 0);
  ASSERT_EQ(candidates.kept.size(), 2U);
  EXPECT_EQ(candidates.kept_but_colliding, (std::vector<CandidateId>{CandidateId(0)}));
}

TEST(Candidates, FixedPlacesComeFirstThenZonesWithTheirNumbers) {
  test::MadeScene scene;
  scene.fixed_stations = {{"door", {9, 9, 9}, false}};
  scene.zones = {zone_over({{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 2),
                 zone_over({{5, 0}, {6, 0}, {6, 1}, {5, 1}}, 2)};
  const Cell cell = test::cell_of(scene);
  const Candidates candidates = generate_candidates(cell);
  ASSERT_EQ(candidates.kept.size(), 3U);
  EXPECT_EQ(candidates.kept[0].name, "door");
  EXPECT_FALSE(candidates.kept[0].zone.has_value());
  EXPECT_EQ(candidates.kept[1].zone, 0U);
  EXPECT_EQ(candidates.kept[2].zone, 1U);
  EXPECT_EQ(candidates.kept[2].at, Vec3(5, 0, 0));
}

TEST(Candidates, OverlappingZonesGiveEachPlaceOnce) {
  test::MadeScene scene;
  scene.fixed_stations = {{"corner", {1, 1, 0}, false}};
  scene.zones = {zone_over({{0, 0}, {2, 0}, {2, 2}, {0, 2}}, 1),
                 zone_over({{1, 1}, {3, 1}, {3, 3}, {1, 3}}, 1)};
  const Cell cell = test::cell_of(scene);
  const Candidates candidates = generate_candidates(cell);
  EXPECT_EQ(candidates.tally.tried, 1 + 9 + 9);
  EXPECT_EQ(candidates.tally.duplicate, 1 + 4);  // the fixed one in the first, four of the second
  EXPECT_EQ(candidates.kept.size(), 14U);
}

TEST(Candidates, KeptPlacesStayWhateverStandsThere) {
  test::MadeScene scene = scene_with_plate();
  scene.fixed_stations = {{"first", {0, 0, 500}, false},
                          {"kept, same place", {0, 0, 500}, true},
                          {"kept in the plate", {1000, 0, 100}, true}};
  const Cell cell = test::cell_of(scene);
  const Candidates candidates = generate_candidates(cell);
  ASSERT_EQ(candidates.kept.size(), 2U);
  EXPECT_EQ(candidates.kept[0].name, "kept, same place");
  EXPECT_EQ(candidates.kept[1].name, "kept in the plate");
  EXPECT_EQ(candidates.kept_but_colliding, (std::vector<CandidateId>{CandidateId(1)}));
  EXPECT_EQ(candidates.tally.tried, 3);
  EXPECT_EQ(candidates.tally.body_collides, 0);
  EXPECT_EQ(candidates.tally.duplicate, 1);
}

TEST(Candidates, APlaceIsTriedOnceForEachStandingAxis) {
  test::MadeScene scene;
  scene.zones = {zone_over({{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 1, {7, 3})};
  scene.zones[0].instrument_ups = {Vec3::UnitZ(), -Vec3::UnitZ(), Vec3::UnitX()};
  scene.zones[0].cost = 2.5;
  scene.fixed_stations = {{"corner", {0, 0, 7}, false}};
  scene.fixed_stations[0].instrument_ups = {-Vec3::UnitZ()};
  const Candidates candidates = generate_candidates(test::cell_of(scene));
  EXPECT_EQ(candidates.tally.tried, 1 + 4 * 2 * 3);
  EXPECT_EQ(candidates.tally.duplicate, 1);  // the corner, hanging; upright it is another
  ASSERT_EQ(candidates.kept.size(), 24U);
  EXPECT_EQ(candidates.kept[0].up, Vec3(-Vec3::UnitZ()));
  EXPECT_EQ(candidates.kept[0].cost, 1);
  // The corner's first height, upright, then (hanging is there already) on its side.
  EXPECT_EQ(candidates.kept[1].at, Vec3(0, 0, 7));
  EXPECT_EQ(candidates.kept[1].up, Vec3::UnitZ());
  EXPECT_EQ(candidates.kept[1].cost, 2.5);
  EXPECT_EQ(candidates.kept[2].at, Vec3(0, 0, 7));
  EXPECT_EQ(candidates.kept[2].up, Vec3::UnitX());
  EXPECT_EQ(candidates.kept[3].at, Vec3(0, 0, 3));
}

// The plate stands at x = 1000 from z = 0 to 200; the body is 150 round, 100 up and 300 down.
TEST(Candidates, TheBodyIsAboutTheStandingAxis) {
  test::MadeScene scene = scene_with_plate();
  scene.fixed_stations = {{"upright", {1000, 0, 450}, false},            // reaches down to z = 150
                          {"hanging", {1000, 0, 450}, false},            // down to z = 350
                          {"head to the plate", {850, 0, 100}, false},   // reaches x = 950
                          {"foot to the plate", {850, 0, 100}, false}};  // reaches x = 1150
  scene.fixed_stations[1].instrument_ups = {-Vec3::UnitZ()};
  scene.fixed_stations[2].instrument_ups = {Vec3::UnitX()};
  scene.fixed_stations[3].instrument_ups = {-Vec3::UnitX()};
  const Candidates candidates = generate_candidates(test::cell_of(scene));
  ASSERT_EQ(candidates.kept.size(), 2U);
  EXPECT_EQ(candidates.kept[0].name, "hanging");
  EXPECT_EQ(candidates.kept[1].name, "head to the plate");
  EXPECT_EQ(candidates.tally.body_collides, 2);
}

TEST(Candidates, AZoneHasNoPlacesOverItsHolesNorOnTheirBorders) {
  Zone zone = zone_over({{0, 0}, {4, 0}, {4, 4}, {0, 4}}, 1);
  zone.holes = {{{1, 1}, {1, 3}, {3, 3}, {3, 1}}, {{3.5, 3.5}, {9, 3.5}, {9, 9}, {3.5, 9}}};
  const std::vector<Vec3> places = zone_grid(zone);
  // Of 25 the ring round the square of nine stays, but for its one corner.
  EXPECT_EQ(places.size(), 25U - 9U - 1U);
  for (const Vec3& at : places) {
    EXPECT_FALSE(at.x() >= 1 && at.x() <= 3 && at.y() >= 1 && at.y() <= 3) << at.transpose();
    EXPECT_FALSE(at.x() == 4 && at.y() == 4);
  }
}

TEST(Candidates, OverAKeepOutTheyAreDroppedFixedOnesTooAndKeptOnesAreTold) {
  test::MadeScene scene = scene_with_plate();
  scene.keep_outs = {{"pit", {{-10, -10}, {10, -10}, {10, 10}, {-10, 10}}},
                     {"door", {{990, -10}, {1010, -10}, {1000, 10}}}};
  scene.fixed_stations = {{"in the pit", {0, 0, 500}, false},
                          {"on its border", {10, 0, -3000}, false},
                          {"beside it", {10.001, 0, 500}, false},
                          {"kept in the pit", {1, 0, 500}, true},
                          {"over the door, in the plate", {1000, 0, 100}, false}};
  scene.zones = {zone_over({{0, 0}, {20, 0}, {20, 10}, {0, 10}}, 10, {500})};
  const Candidates candidates = generate_candidates(test::cell_of(scene));
  EXPECT_EQ(candidates.tally.tried, 5 + 6);
  EXPECT_EQ(candidates.tally.keep_out, 3 + 4);
  EXPECT_EQ(candidates.tally.body_collides, 0) << "the first reason counts";
  ASSERT_EQ(candidates.kept.size(), 2U + 2U);
  EXPECT_EQ(candidates.kept[0].name, "beside it");
  EXPECT_EQ(candidates.kept[1].name, "kept in the pit");
  EXPECT_EQ(candidates.kept_but_kept_out, (std::vector<CandidateId>{CandidateId(1)}));
  EXPECT_TRUE(candidates.kept_but_colliding.empty());
}

}  // namespace
}  // namespace standpoint
