// How `start` puts a part on the floor, and where it lets the instrument stand.

#include "io/use/start_layout.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "io/use/start_features.h"
#include "io/use/start_kit.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

/// A box, its faces outward.
Mesh box(const Vec3& low, const Vec3& high) {
  Mesh mesh;
  for (int corner = 0; corner < 8; ++corner)
    mesh.vertices.emplace_back((corner & 1) != 0 ? high.x() : low.x(),
                               (corner & 2) != 0 ? high.y() : low.y(),
                               (corner & 4) != 0 ? high.z() : low.z());
  mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                    {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
  return mesh;
}

Vec3 placed(const Footing& footing, const Vec3& at) {
  return turn_of(footing) * at + footing.translate;
}

void expect_on_floor(const Footing& footing, const Mesh& mesh) {
  Vec3 low = Vec3::Constant(1e30), high = -low;
  for (const Vec3& vertex : mesh.vertices) {
    low = low.cwiseMin(placed(footing, vertex));
    high = high.cwiseMax(placed(footing, vertex));
  }
  EXPECT_NEAR(low.z(), 0, 1e-6);
  EXPECT_NEAR(low.x() + high.x(), 0, 1e-6);
  EXPECT_NEAR(low.y() + high.y(), 0, 1e-6);
  EXPECT_LT((low - footing.box.low).norm() + (high - footing.box.high).norm(), 1e-6);
}

TEST(StartLayout, ThePartsOwnUpStaysUpWhereThePartStandsSo) {
  // The sides are larger than the underside; still +Z is up.
  const Mesh mesh = box({5000, 100, -700}, {5300, 900, 500});
  const Footing footing = stand_on_floor(mesh);
  EXPECT_EQ(footing.why, Footing::Why::own_up);
  EXPECT_EQ(footing.rotate_xyz_deg, Vec3(0, 0, 0));
  EXPECT_EQ(footing.translate, Vec3(-5150, -500, 700));
  EXPECT_DOUBLE_EQ(footing.flat_area, 300 * 800);
  expect_on_floor(footing, mesh);
}

TEST(StartLayout, APartThatStandsBadlyIsLaidOnItsLargestFace) {
  // A panel on edge: the edge is 1/100 of the panel.
  const Mesh mesh = box({0, 0, 0}, {1000, 10, 1000});
  const Footing footing = stand_on_floor(mesh);
  EXPECT_EQ(footing.why, Footing::Why::largest_flat);
  EXPECT_EQ(std::abs(footing.rotate_xyz_deg.x()), 90);  // exactly: it is read by people
  EXPECT_EQ(footing.rotate_xyz_deg.y(), 0);
  EXPECT_NEAR(footing.box.high.z(), 10, 1e-9);
  expect_on_floor(footing, mesh);
}

TEST(StartLayout, ATurnedPanelIsLaidFlatHoweverItIsTurned) {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    Mesh mesh = box({0, 0, 0}, {900, 700, 12});
    const Eigen::AngleAxisd turn(draw.between(0.1, 3), draw.direction());
    for (Vec3& vertex : mesh.vertices) vertex = turn * vertex + Vec3(3000, -2000, 100);
    const Footing footing = stand_on_floor(mesh);
    EXPECT_EQ(footing.why, Footing::Why::largest_flat);
    EXPECT_NEAR(footing.box.high.z(), 12, 1e-3);
    expect_on_floor(footing, mesh);
  }
}

TEST(StartLayout, WithNothingFlatItStandsOnItsLowestPoint) {
  Mesh mesh;
  mesh.vertices = {{0, 0, -80}, {1, 0, 0}, {0, 1, 0}};
  const Footing footing = stand_on_floor(mesh);
  EXPECT_EQ(footing.why, Footing::Why::nothing_flat);
  EXPECT_EQ(footing.rotate_xyz_deg, Vec3(0, 0, 0));
  EXPECT_EQ(footing.translate.z(), 80);
}

TEST(StartLayout, AislesGoRoundThePartAndNeverOverIt) {
  const Instrument instrument = start_kit().instrument;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    const Vec3 size(draw.size(20, 12000), draw.size(20, 12000), draw.size(20, 8000));
    const PlacedBox part{{-size.x() / 2, -size.y() / 2, 0}, {size.x() / 2, size.y() / 2, size.z()}};
    const Layout layout = lay_out(part, instrument);
    ASSERT_EQ(layout.aisles.size(), 4u);
    for (const Rectangle& aisle : layout.aisles) {
      EXPECT_TRUE((aisle.low.array() < aisle.high.array()).all()) << aisle.name;
      // Of the part's outline at least the instrument's shortest range away, on one side.
      const double away = std::max({aisle.low.x() - part.high.x(), part.low.x() - aisle.high.x(),
                                    aisle.low.y() - part.high.y(), part.low.y() - aisle.high.y()});
      EXPECT_GE(away, instrument.range.low) << aisle.name;
      EXPECT_TRUE((aisle.high.array() <= layout.floor_size.array() / 2).all()) << aisle.name;
    }
    EXPECT_LE(count_places(layout), 150u);
    EXPECT_GE(count_places(layout), 24u);
    EXPECT_TRUE(std::is_sorted(layout.heights.begin(), layout.heights.end()));
    for (const double height : layout.heights) EXPECT_GT(height, instrument.body_below);
    for (const Nest& site : layout.nest_sites) {
      const bool is_beside = std::abs(site.at.x()) > part.high.x() + 100 ||
                             std::abs(site.at.y()) > part.high.y() + 100;
      EXPECT_TRUE(is_beside) << site.name;
    }
  }
}

TEST(StartLayout, APlatformLooksOverATallPart) {
  const auto heights = [](double tall) {
    return lay_out({{-300, -300, 0}, {300, 300, tall}}, start_kit().instrument).heights;
  };
  EXPECT_EQ(heights(1500).size(), 2u);
  ASSERT_EQ(heights(1510).size(), 3u);
  EXPECT_EQ(heights(1510).back(), 2000) << "450 mm over it, to the next 50";
  EXPECT_EQ(heights(7000).back(), 4000) << "higher no platform goes";
}

TEST(StartLayout, AislesKeepAwayFromThePartAsFarAsTheInstrumentMust) {
  Instrument instrument = start_kit().instrument;
  const auto gap = [&] {
    const Layout layout = lay_out({{-300, -300, 0}, {300, 300, 400}}, instrument);
    return -300 - layout.aisles.at(0).high.y();
  };
  EXPECT_EQ(gap(), 1000);
  instrument.range.low = 2000;
  EXPECT_EQ(gap(), 3000) << "half as much again";
}

FoundFeature found(FoundKind kind, const std::string& name, const Vec3& centre, const Vec3& axis) {
  FoundFeature feature;
  feature.kind = kind;
  feature.name = name;
  feature.centre = centre;
  feature.axis = axis;
  feature.depth = 40;
  if (kind == FoundKind::plane)
    feature.points = {centre, centre + Vec3(10, 0, 0), centre + Vec3(0, 10, 0)};
  return feature;
}

TEST(StartFeatures, WhatThePartStandsOnIsLeftOut) {
  const Mesh mesh = box({0, 0, 100}, {300, 200, 140});
  const Footing footing = stand_on_floor(mesh);
  FoundFeature small = found(FoundKind::plane, "chamfer", {0, 0, 130}, Vec3::UnitX());
  small.points.pop_back();
  const StartFeatures features =
      start_features({found(FoundKind::plane, "underside", {100, 100, 100}, -Vec3::UnitZ()),
                      found(FoundKind::plane, "ledge", {100, 100, 110}, -Vec3::UnitZ()),
                      found(FoundKind::plane, "top", {100, 100, 140}, Vec3::UnitZ()), small,
                      found(FoundKind::hole, "blind-below", {50, 50, 100}, -Vec3::UnitZ()),
                      found(FoundKind::slot, "slot", {90, 50, 140}, Vec3::UnitZ())},
                     footing);
  const auto names = [](const std::vector<FoundFeature>& list) {
    std::vector<std::string> all;
    for (const FoundFeature& feature : list) all.push_back(feature.name);
    return all;
  };
  EXPECT_EQ(names(features.taken), (std::vector<std::string>{"ledge", "top", "slot"}));
  EXPECT_EQ(features.on_floor, (std::vector<std::string>{"underside", "blind-below"}));
  EXPECT_EQ(features.no_place, (std::vector<std::string>{"chamfer"}));
}

TEST(StartFeatures, APlaneWhosePlacesAreInOneLineIsNoFeatureThatASceneRefuses) {
  FoundFeature edge = found(FoundKind::plane, "edge", {0, 0, 130}, Vec3::UnitX());
  edge.points = {{0, 0, 130}, {0, 50, 130}, {0, 80, 130}};
  const StartFeatures features =
      start_features({edge}, stand_on_floor(box({0, 0, 100}, {300, 200, 140})));
  EXPECT_TRUE(features.taken.empty());
  EXPECT_EQ(features.no_place, (std::vector<std::string>{"edge"}));
}

TEST(StartFeatures, AThroughHoleIsTakenFromAbove) {
  const Footing footing = stand_on_floor(box({0, 0, 100}, {300, 200, 140}));
  FoundFeature hole = found(FoundKind::hole, "hole", {50, 50, 100}, -Vec3::UnitZ());
  hole.through = true;
  const StartFeatures features = start_features({hole}, footing);
  ASSERT_EQ(features.taken.size(), 1u);
  EXPECT_EQ(features.turned, 1u);
  EXPECT_EQ(features.taken[0].centre, Vec3(50, 50, 140));
  EXPECT_EQ(features.taken[0].axis, Vec3(0, 0, 1));
}

}  // namespace
}  // namespace standpoint
