// What is found on parts made by hand, whose holes are known.

#include "planner/part/find_features.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/planner/part/found.h"
#include "tests/planner/part/part_builder.h"

namespace standpoint {
namespace {

using test::Drilling;
using test::expect_near;
using test::HoleEnd;
using test::names_of;
using test::PartBuilder;
using test::without_planes;
using testing::ElementsAre;
using testing::IsEmpty;

PartFaces drilled(const Drilling& drilling) {
  return PartBuilder().block(0, 0, 200, 100, 0, 40, {drilling}).done();
}

TEST(FindFeatures, AHoleThroughABlockOpensUpward) {
  const auto found = without_planes(drilled({50, 30, {{10, 40}}}));
  ASSERT_THAT(names_of(found), ElementsAre("hole-20-1"));
  EXPECT_TRUE(found[0].through);
  expect_near(found[0].centre, {50, 30, 40});
  expect_near(found[0].axis, Vec3::UnitZ());
  EXPECT_NEAR(found[0].depth, 40, 1e-9);
  ASSERT_EQ(found[0].steps.size(), 1U);
  expect_near(found[0].steps[0].centre, {50, 30, 40});
}

TEST(FindFeatures, HalvesAndQuartersAndSeamsAreOneHole) {
  for (const std::size_t pieces : {1U, 2U, 4U}) {
    Drilling drilling{50, 30, {{10, 40}}};
    drilling.pieces = pieces;
    drilling.is_seamed = true;
    const auto found = without_planes(drilled(drilling));
    ASSERT_THAT(names_of(found), ElementsAre("hole-20-1")) << pieces << " pieces";
    EXPECT_EQ(found[0].faces.size(), pieces);
    EXPECT_NEAR(found[0].area, 2 * std::numbers::pi * 10 * 40, 1e-6);
  }
}

TEST(FindFeatures, ANotchOfATenthIsAllowedAndAWiderOneIsNot) {
  Drilling drilling{50, 30, {{10, 40}}};
  drilling.notch_rad = 0.1 * 2 * std::numbers::pi;
  EXPECT_THAT(names_of(without_planes(drilled(drilling))), ElementsAre("hole-20-1"));
  drilling.notch_rad = 0.11 * 2 * std::numbers::pi;
  EXPECT_THAT(without_planes(drilled(drilling)), IsEmpty());
}

TEST(FindFeatures, ABlindHoleEndsFlatOrInADrillTip) {
  Drilling drilling{50, 30, {{10, 25}}};
  for (const HoleEnd end : {HoleEnd::flat, HoleEnd::tip}) {
    drilling.end = end;
    const auto found = without_planes(drilled(drilling));
    ASSERT_THAT(names_of(found), ElementsAre("hole-20-1")) << "the tip is no cone of its own";
    EXPECT_FALSE(found[0].through);
    EXPECT_EQ(found[0].tip, end == HoleEnd::tip);
    EXPECT_NEAR(found[0].depth, 25, 1e-9);
    EXPECT_EQ(found[0].faces.size(), 2U) << "wall and end";
  }
}

TEST(FindFeatures, StepsComeFromTheOpeningInwardAndTheNarrowestGivesTheSize) {
  // Counterbore, hole, and a wider recess from below: narrowest in the middle.
  const auto found = without_planes(drilled({50, 30, {{12, 10}, {5, 20}, {8, 10}}}));
  ASSERT_THAT(names_of(found), ElementsAre("hole-10-1"));
  ASSERT_EQ(found[0].steps.size(), 3U);
  const double diameters[] = {24, 10, 16}, depths[] = {10, 20, 10}, tops[] = {40, 30, 10};
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(found[0].steps[i].diameter, diameters[i], 1e-9);
    EXPECT_NEAR(found[0].steps[i].depth, depths[i], 1e-9);
    expect_near(found[0].steps[i].centre, {50, 30, tops[i]});
  }
  EXPECT_TRUE(found[0].through);
  EXPECT_NEAR(found[0].depth, 20, 1e-9) << "of the cylinder that has the diameter told";
  expect_near(found[0].centre, {50, 30, 30});
}

TEST(FindFeatures, AThroughHoleOpensAtItsWiderEnd) {
  const auto found = without_planes(drilled({50, 30, {{5, 30}, {12, 10}}}));
  ASSERT_THAT(names_of(found), ElementsAre("hole-10-1"));
  expect_near(found[0].axis, -Vec3::UnitZ());
  ASSERT_EQ(found[0].steps.size(), 2U);
  EXPECT_NEAR(found[0].steps[0].diameter, 24, 1e-9);
  expect_near(found[0].steps[0].centre, {50, 30, 0});
}

TEST(FindFeatures, AGrooveInAHoleIsAStepOfIt) {
  const auto found = without_planes(drilled({50, 30, {{5, 20}, {7, 4}, {5, 16}}}));
  ASSERT_THAT(names_of(found), ElementsAre("hole-10-1"));
  EXPECT_EQ(found[0].steps.size(), 3U);
}

TEST(FindFeatures, ACountersinkIsTheEndOfAHole) {
  Drilling drilling{50, 30, {{5, 40}}};
  drilling.countersink = 9;
  const auto found = without_planes(drilled(drilling));
  ASSERT_THAT(names_of(found), ElementsAre("hole-10-1"));
  EXPECT_NEAR(found[0].countersink, 18, 1e-6);
  EXPECT_EQ(found[0].steps.size(), 1U);
  expect_near(found[0].centre, {50, 30, 36});
  EXPECT_TRUE(found[0].through);
}

TEST(FindFeatures, RoundedOpeningsAndBottomsAreLookedThrough) {
  Drilling drilling{50, 30, {{10, 20}}};
  drilling.round = 2;
  drilling.end = HoleEnd::flat;
  const auto blind = without_planes(drilled(drilling));
  ASSERT_THAT(names_of(blind), ElementsAre("hole-20-1"));
  EXPECT_FALSE(blind[0].through);
  EXPECT_FALSE(blind[0].tip);
  EXPECT_EQ(blind[0].faces.size(), 4U) << "wall, two rounds, bottom";
  drilling.end = HoleEnd::through;
  const auto through = without_planes(drilled(drilling));
  ASSERT_THAT(names_of(through), ElementsAre("hole-20-1"));
  EXPECT_TRUE(through[0].through);
  expect_near(through[0].centre, {50, 30, 38});
}

TEST(FindFeatures, TwoLugsAreTwoHoles) {
  const auto part = PartBuilder()
                        .block(0, 0, 100, 100, 0, 20, {{50, 50, {{10, 20}}}})
                        .block(0, 0, 100, 100, 60, 80, {{50, 50, {{10, 20}}}})
                        .done();
  const auto found = without_planes(part);
  ASSERT_THAT(names_of(found), ElementsAre("hole-20-1", "hole-20-2"));
  EXPECT_NEAR(found[0].centre.z(), 20, 1e-6);
  EXPECT_NEAR(found[1].centre.z(), 80, 1e-6);
}

TEST(FindFeatures, WallsOfTwoSolidsAreNeverOne) {
  PartBuilder builder;
  builder.loose_wall(0, 0, 10, 0, 20, 0, std::numbers::pi, true);
  builder.next_solid();
  builder.loose_wall(0, 0, 10, 0, 20, std::numbers::pi, 2 * std::numbers::pi, true);
  EXPECT_THAT(without_planes(builder.done()), IsEmpty());
}

TEST(FindFeatures, RoundsOfLessThanAWholeTurnAreNothing) {
  for (const double turn : {0.25, 0.5, 0.75}) {
    const auto part =
        PartBuilder()
            .block(0, 0, 100, 100, 0, 20)
            .loose_wall(20, 20, 10, 0, 20, 0.3, 0.3 + turn * 2 * std::numbers::pi, true)
            .loose_wall(70, 70, 8, 0, 20, 0, turn * 2 * std::numbers::pi, false)
            .done();
    EXPECT_THAT(without_planes(part), IsEmpty()) << turn << " of a turn";
  }
}

TEST(FindFeatures, AClosedCavityIsNoHole) {
  PartFaces part = drilled({50, 30, {{10, 40}}});
  for (Face& face : part.faces)
    for (Loop& loop : face.loops)
      for (Edge& edge : loop)
        if (face.surface.kind == SurfaceKind::cylinder) edge.bend = EdgeBend::concave;
  EXPECT_THAT(without_planes(part), IsEmpty());
}

TEST(FindFeatures, AHoleOverTheLimitIsACylinderOnTheInside) {
  const PartFaces part = drilled({100, 50, {{31, 40}}});
  auto found = without_planes(part);
  ASSERT_THAT(names_of(found), ElementsAre("bore-62-1"));
  EXPECT_EQ(found[0].kind, FoundKind::cylinder);
  EXPECT_TRUE(found[0].hollow);
  EXPECT_NEAR(found[0].length, 40, 1e-9);
  expect_near(found[0].centre, {100, 50, 20});
  FindOptions options;
  options.holes_up_to = 62.5;
  EXPECT_THAT(names_of(without_planes(part, options)), ElementsAre("hole-62-1"));
}

TEST(FindFeatures, ABossIsACylinderOnTheOutside) {
  const auto part = PartBuilder().block(0, 0, 100, 100, 0, 20).boss(50, 50, 15, 20, 50).done();
  const auto found = without_planes(part);
  ASSERT_THAT(names_of(found), ElementsAre("boss-30-1"));
  EXPECT_FALSE(found[0].hollow);
  EXPECT_NEAR(found[0].length, 30, 1e-9);
  expect_near(found[0].centre, {50, 50, 35});
}

TEST(FindFeatures, ASlotIsTwoHalfRoundsWithPlanesBetween) {
  const auto part = PartBuilder().slot(50, 40, 12, 50, 0, 20).done();
  const auto found = find_features(part);
  ASSERT_THAT(names_of(found), ElementsAre("slot-12x50-1")) << "its sides are no planes";
  EXPECT_NEAR(found[0].width, 12, 1e-9);
  EXPECT_NEAR(found[0].length, 50, 1e-9);
  EXPECT_NEAR(found[0].depth, 20, 1e-9);
  EXPECT_TRUE(found[0].through);
  expect_near(found[0].centre, {50, 40, 20});
  expect_near(found[0].along, Vec3::UnitX());
  EXPECT_EQ(found[0].faces.size(), 4U);
}

TEST(FindFeatures, ASlotThatIsOpenAtOneEndIsNone) {
  const auto part = PartBuilder().slot(50, 40, 12, 50, 0, 20, false).done();
  EXPECT_THAT(without_planes(part), IsEmpty());
}

/// Inside the block's top (0..200 x 0..100) and outside of the hole about (50, 30).
TEST(FindFeatures, PointsOfAPlaneLieInsideItsFace) {
  const auto found = find_features(drilled({50, 30, {{25, 40}}}));
  std::size_t planes = 0;
  for (const FoundFeature& f : found) {
    if (f.kind != FoundKind::plane) continue;
    ++planes;
    EXPECT_GE(f.points.size(), 4U);
    if (std::abs(f.axis.z()) < 0.5) continue;
    double nearest = 1e9, apart = 0;
    for (const Vec3& p : f.points) {
      EXPECT_NEAR(p.z(), f.axis.z() > 0 ? 40 : 0, 1e-9);
      const double rim = std::min({p.x(), 200 - p.x(), p.y(), 100 - p.y()});
      nearest = std::min({nearest, rim, (p - Vec3(50, 30, p.z())).norm() - 25});
      for (const Vec3& q : f.points) apart = std::max(apart, (p - q).norm());
    }
    EXPECT_GT(nearest, 5) << f.name;
    EXPECT_GT(apart, 100) << f.name;
  }
  EXPECT_EQ(planes, 6U);
}

TEST(FindFeatures, AThinRingHasPointsToo) {
  PartFaces part = PartBuilder().boss(0, 0, 500, 0, 20).done();
  Loop hole = part.faces[1].loops[0];
  for (Vec3& p : hole[0].points) p = {p.x() * 0.996, p.y() * 0.996, p.z()};
  std::reverse(hole[0].points.begin(), hole[0].points.end());
  part.faces[1].loops.push_back(hole);
  const auto found = find_features(part);
  const auto ring = std::find_if(found.begin(), found.end(),
                                 [](const auto& f) { return f.kind == FoundKind::plane; });
  ASSERT_NE(ring, found.end());
  EXPECT_GE(ring->points.size(), 4U);
  for (const Vec3& p : ring->points) {
    // The rims are polygons of 48 corners: their sides are nearer to the axis than their corners.
    EXPECT_LT(p.norm(), 500.4);
    EXPECT_GT(p.head<2>().norm(), 498 * std::cos(std::numbers::pi / 48));
  }
}

TEST(FindFeatures, FittedFacesTellHowWellTheyFit) {
  PartFaces part = drilled({50, 30, {{10, 40}}});
  for (Face& face : part.faces) face.fit = SurfaceFit{0.02, 0.05, 100, 1200, false};
  Drilling halves{50, 30, {{10, 40}}};
  const auto found = without_planes(part);
  ASSERT_EQ(found.size(), 1U);
  ASSERT_TRUE(found[0].fit);
  EXPECT_NEAR(found[0].fit->rms, 0.02, 1e-12);
  EXPECT_EQ(found[0].fit->triangles, 100U);
  EXPECT_FALSE(found[0].fit->doubtful);
}

}  // namespace
}  // namespace standpoint
