// Sites generated on surfaces: counted and placed by hand on boxes.

#include <gtest/gtest.h>

#include <set>

#include "planner/nests/generate_sites.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

using namespace test;

/// A box of 1000 x 600 x 400 on the floor.
MadeScene box_scene(double spacing, const std::vector<Vec2>& polygon) {
  MadeScene scene = bare_scene();
  scene.full_targets.push_back(ball_target());
  const BodyId body = add_body(scene, "box", box({0, 0, 0}, {1000, 600, 400}));
  scene.nest_surfaces.push_back({body, polygon, spacing});
  return scene;
}

const std::vector<Vec2> kAround{{-100, -100}, {1100, -100}, {1100, 700}, {-100, 700}};

TEST(RaiseSites, StandOnTheTopAndTheSidesNotBelow) {
  // Lines at x = -100, 200, 500, 800, 1100 and y = -100, 200, 500; z = 150 and (450: above).
  const MadeScene scene = box_scene(300, kAround);
  const auto sites = generate_sites(cell_of(scene));
  std::size_t up = 0, across = 0;
  std::set<std::string> names;
  for (const NestSite& site : sites) {
    names.insert(site.name);
    EXPECT_DOUBLE_EQ(site.normal.norm(), 1);
    const Vec3 contact = site.at - 19.05 * site.normal;
    if (site.normal.z() > 0.5) {
      ++up;
      EXPECT_NEAR(contact.z(), 400, 1e-9);
    } else {
      ++across;
      EXPECT_NEAR(contact.z(), 150, 1e-9);
      EXPECT_EQ(site.normal.z(), 0);
    }
  }
  EXPECT_EQ(up, 6u) << "3 x 2 lines meet the top";
  EXPECT_EQ(across, 2 * 3 + 2 * 2u) << "three on each long side, two on each short one";
  EXPECT_EQ(names.size(), sites.size());
}

TEST(RaiseSites, KeepToThePrismOverThePolygon) {
  const auto sites = generate_sites(cell_of(box_scene(100, {{150, 150}, {450, 150}, {150, 450}})));
  ASSERT_FALSE(sites.empty());
  for (const NestSite& site : sites) {
    EXPECT_EQ(site.normal, Vec3::UnitZ()) << "no side is over the polygon";
    EXPECT_LE(site.at.x() + site.at.y(), 600 + 1e-9);
    EXPECT_EQ(std::remainder(site.at.x() - 150, 100), 0) << "anchored at the least corner";
  }
  EXPECT_EQ(sites.size(), 4 + 3 + 2 + 1u);
}

TEST(RaiseSites, LeaveOutWhereTheBallWouldNotFit) {
  MadeScene scene = box_scene(300, kAround);
  const std::size_t free = generate_sites(cell_of(scene)).size();
  // A wall 10 mm beside the ball that would stand at (200, 200) on the top.
  add_body(scene, "wall", box({200 + 19.05 - 1, 100, 390}, {230, 300, 600}));
  EXPECT_EQ(generate_sites(cell_of(scene)).size(), free - 1);
  scene.rules.fit_tolerance = 1.5;
  EXPECT_EQ(generate_sites(cell_of(scene)).size(), free) << "within the tolerance of the fit";
}

TEST(RaiseSites, AnEdgeBetweenTwoTrianglesGivesOneSite) {
  // The diagonal of the top runs through (500, 300).
  const auto sites = generate_sites(cell_of(box_scene(1000, {{500, 300}, {501, 300}, {501, 301}})));
  EXPECT_EQ(sites.size(), 1u);
}

TEST(RaiseSites, ListedSitesComeFirstAndNamesStayTheirOwn) {
  MadeScene scene = box_scene(300, kAround);
  scene.nest_sites.push_back({"box-1-1", {3000, 0, 0}, Vec3::UnitZ(), 0.5});
  const auto sites = generate_sites(cell_of(scene));
  EXPECT_EQ(sites.front().name, "box-1-1");
  EXPECT_EQ(sites.front().seat_rad, 0.5);
  std::set<std::string> names;
  for (const NestSite& site : sites) EXPECT_TRUE(names.insert(site.name).second) << site.name;
  EXPECT_TRUE(names.contains("box-1-1-2"));
}

TEST(RaiseSites, WithoutAFullTargetThereIsNoBallToSeat) {
  MadeScene scene = box_scene(300, kAround);
  scene.full_targets.clear();
  EXPECT_TRUE(generate_sites(cell_of(scene)).empty());
}

}  // namespace
}  // namespace standpoint
