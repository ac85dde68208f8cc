// What is found on parts made by hand, whose holes are known.

#include "planner/part/find_features.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "planner/part/feature_filter.h"
#include "tests/draw.h"
#include "tests/planner/part/part_builder.h"

namespace standpoint {
namespace {

using test::Drilling;
using test::HoleEnd;
using test::PartBuilder;
using testing::ElementsAre;
using testing::IsEmpty;

std::vector<FoundFeature> without_planes(const PartFaces& part, const FindOptions& options = {}) {
  auto found = find_features(part, options);
  std::erase_if(found, [](const FoundFeature& f) { return f.kind == FoundKind::plane; });
  return found;
}

std::vector<std::string> names_of(const std::vector<FoundFeature>& found) {
  std::vector<std::string> names;
  for (const FoundFeature& f : found) names.push_back(f.name);
  return names;
}

void expect_near(const Vec3& a, const Vec3& b, double within = 1e-6) {
  EXPECT_LE((a - b).norm(), within) << a.transpose() << " and " << b.transpose();
}

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

/// A part with one of everything, and several of some.
PartFaces motley() {
  Drilling cut{40, 40, {{12, 10}, {5, 20}}};
  cut.end = HoleEnd::tip;
  Drilling sunk{160, 40, {{5, 60}}};
  sunk.countersink = 9;
  Drilling halves{220, 120, {{5, 60}}};
  halves.pieces = 2;
  return PartBuilder()
      .block(0, 0, 300, 200, 0, 60,
             {cut,
              sunk,
              halves,
              {100, 150, {{10, 60}}},
              {200, 60, {{10, 60}}},
              {260, 160, {{32, 60}}}})
      .boss(60, 120, 20, 60, 90)
      .slot(150, 100, 12, 50, 0, 60)
      .done();
}

TEST(FindFeatures, NamesDoNotDependOnTheOrderOfFacesOrLoops) {
  const PartFaces part = motley();
  const auto expected = names_of(find_features(part));
  ASSERT_EQ(without_planes(part).size(), 8U);
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    test::Draw draw(seed);
    std::vector<std::size_t> order(part.faces.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[draw.below(i)]);
    PartFaces other = test::reordered(part, order);
    if (draw.chance(0.5)) other = test::turned_round(std::move(other));
    const auto found = find_features(other);
    EXPECT_EQ(names_of(found), expected) << "seed " << seed;
    const auto before = find_features(part);
    for (std::size_t i = 0; i < std::min(found.size(), before.size()); ++i) {
      if (found[i].kind != FoundKind::plane) expect_near(found[i].centre, before[i].centre);
      EXPECT_NEAR(found[i].axis.dot(before[i].axis), 1, 1e-9) << found[i].name;
      std::vector<std::size_t> faces;
      for (const std::size_t number : found[i].faces) faces.push_back(order[number - 1] + 1);
      std::sort(faces.begin(), faces.end());
      EXPECT_EQ(faces, before[i].faces) << found[i].name << ", seed " << seed;
    }
  }
}

/// What of a feature does not change when the part is moved.
std::string form_of(const FoundFeature& f) {
  std::string form = f.name.substr(0, f.name.rfind('-')) + (f.through ? " through" : "") +
                     (f.tip ? " tip" : "") + " " + std::to_string(f.faces.size());
  for (const HoleStep& step : f.steps)
    form += " " + std::to_string(std::lround(1e3 * step.diameter)) + "/" +
            std::to_string(std::lround(1e3 * step.depth));
  return form;
}

TEST(FindFeatures, MovingOrMirroringThePartMovesWhatIsFound) {
  const PartFaces part = motley();
  std::map<std::string, std::vector<Vec3>> expected;
  for (const FoundFeature& f : find_features(part))
    if (f.kind != FoundKind::plane) expected[form_of(f)].push_back(f.centre);
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    test::Draw draw(seed);
    Mat3 turn = Eigen::AngleAxisd(draw.between(0, 6.3), draw.direction()).toRotationMatrix();
    if (draw.chance(0.5)) turn.col(0) = -turn.col(0);
    const Vec3 shift = draw.in_box(5000);
    std::map<std::string, std::vector<Vec3>> found;
    for (const FoundFeature& f : find_features(test::moved(part, turn, shift)))
      if (f.kind != FoundKind::plane) found[form_of(f)].push_back(f.centre);
    ASSERT_EQ(found.size(), expected.size()) << "seed " << seed;
    for (const auto& [form, places] : expected) {
      ASSERT_EQ(found[form].size(), places.size()) << form << ", seed " << seed;
      for (const Vec3& place : places) {
        // A plain hole through the part may open at its other end now: then that is its centre.
        double nearest = 1e9;
        for (const Vec3& p : found[form])
          for (const double back : {0.0, 60.0})
            nearest = std::min(nearest, (p - turn * (place - back * Vec3::UnitZ()) - shift).norm());
        EXPECT_LT(nearest, 1e-6) << form << ", seed " << seed;
      }
    }
  }
}

TEST(FindFeatures, FacesThatMakeNoSenseArePassedOver) {
  PartFaces part = motley();
  const auto expected = without_planes(part).size();
  Face bad = part.faces.back();
  bad.surface.at.x() = std::nan("");
  part.faces.push_back(bad);
  bad = part.faces.front();
  bad.surface.kind = SurfaceKind::cylinder;
  bad.surface.radius = -1;
  part.faces.push_back(bad);
  bad = Face{};
  bad.surface.kind = SurfaceKind::cone;
  part.faces.push_back(bad);
  Edge edge;
  edge.beyond = 100000;
  edge.points = {Vec3::Zero(), Vec3::UnitX()};
  bad = part.faces.front();
  bad.loops = {{edge}};
  part.faces.push_back(bad);
  EXPECT_EQ(without_planes(part).size(), expected);
  EXPECT_THAT(find_features(PartFaces{}), IsEmpty());
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

TEST(FindFeatures, FiltersTakeWhatIsAskedFor) {
  const auto found = find_features(motley());
  const auto left = [&](const FeatureFilter& filter) {
    auto kept = found;
    std::erase_if(kept, [&](const FoundFeature& f) { return !passes(filter, f); });
    return names_of(kept);
  };
  FeatureFilter filter;
  filter.words = {"hole"};
  EXPECT_THAT(left(filter),
              ElementsAre("hole-10-1", "hole-10-2", "hole-10-3", "hole-20-1", "hole-20-2"));
  filter.size = Interval{15, 25};
  EXPECT_THAT(left(filter), ElementsAre("hole-20-1", "hole-20-2"));
  filter.low = Vec3(0, 100, 0);
  filter.high = Vec3(300, 200, 100);
  EXPECT_THAT(left(filter), ElementsAre("hole-20-1"));
  FeatureFilter axis;
  axis.words = {"boss", "hole", "plane"};
  axis.axis = -Vec3::UnitZ();
  const auto down = left(axis);
  EXPECT_EQ(std::count_if(down.begin(), down.end(),
                          [](const std::string& n) { return n.rfind("plane", 0) == 0; }),
            1);
  EXPECT_EQ(down.size(), 2U) << "the boss either way round, and the bottom";
}

}  // namespace
}  // namespace standpoint
