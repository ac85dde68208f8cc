#include "io/write/csv/list_csv.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/lists/feature_list.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

FoundFeature drawn(test::Draw& draw, std::size_t number) {
  constexpr std::array kKinds{FoundKind::hole,  FoundKind::slot,   FoundKind::cylinder,
                              FoundKind::cone,  FoundKind::sphere, FoundKind::plane,
                              FoundKind::point, FoundKind::line};
  FoundFeature feature;
  feature.name = "f, \"" + std::to_string(number) + "\"";
  feature.kind = kKinds[draw.below(kKinds.size())];
  feature.centre = draw.in_box(1e4);
  feature.axis = draw.direction();
  feature.toward = feature.axis;
  feature.diameter = draw.size(0.01, 1e4);
  feature.depth = draw.size(0.01, 1e4);
  feature.width = draw.size(0.01, 1e4);
  feature.length = feature.width * draw.between(1, 9);
  feature.along = draw.direction();
  feature.angle_rad = draw.between(0.1, 3);
  feature.through = draw.chance(0.5);
  feature.hollow = draw.chance(0.5);
  feature.datum = draw.chance(0.3);
  if (draw.chance(0.5)) feature.tolerance = draw.size(0.001, 1);
  for (int i = 0; i < 4; ++i) feature.points.push_back(draw.in_box(1e4));
  if (feature.kind == FoundKind::cone)  // not past its tip
    feature.length = draw.between(0.01, 1) * feature.diameter / std::tan(feature.angle_rad / 2);
  if (feature.kind == FoundKind::line) {
    feature.points.resize(2);
    feature.length = (feature.points[1] - feature.points[0]).norm();
  }
  return feature;
}

// What a kind has comes back; what it does not have need not.
void expect_same(const FoundFeature& read, const FoundFeature& wanted, double bound) {
  EXPECT_EQ(read.name, wanted.name);
  ASSERT_EQ(read.kind, wanted.kind);
  const auto near = [&](double a, double b) { EXPECT_NEAR(a, b, bound * std::abs(b)); };
  const bool is_line = wanted.kind == FoundKind::line;
  const bool is_plane = wanted.kind == FoundKind::plane || is_line;
  const bool is_slot = wanted.kind == FoundKind::slot;
  if (is_plane) {
    ASSERT_EQ(read.points.size(), wanted.points.size());
    for (std::size_t i = 0; i < read.points.size(); ++i)
      EXPECT_LE((read.points[i] - wanted.points[i]).norm(), bound * 1e4);
  } else {
    EXPECT_LE((read.centre - wanted.centre).norm(), bound * 1e4);
  }
  const bool is_sphere = wanted.kind == FoundKind::sphere;
  const Vec3& axis = is_sphere ? read.toward : read.axis;
  EXPECT_LE((axis - wanted.axis).norm(), 1e-15);
  const bool is_long = wanted.kind == FoundKind::cylinder || wanted.kind == FoundKind::cone;
  const bool is_opening = wanted.kind == FoundKind::hole || is_slot;
  if (is_long || is_sphere || wanted.kind == FoundKind::hole) near(read.diameter, wanted.diameter);
  if (is_opening) near(read.depth, wanted.depth);
  if (is_opening) EXPECT_EQ(read.through, wanted.through);
  if (is_line) EXPECT_NEAR(read.length, wanted.length, 1e-10);
  if (is_long || is_slot) near(read.length, wanted.length);
  if (is_long) EXPECT_EQ(read.hollow, wanted.hollow);
  if (is_slot) near(read.width, wanted.width);
  if (is_slot) EXPECT_LE((read.along - wanted.along).norm(), 1e-15);
  if (wanted.kind == FoundKind::cone) EXPECT_NEAR(read.angle_rad, wanted.angle_rad, 1e-15);
  ASSERT_EQ(read.tolerance.has_value(), wanted.tolerance.has_value());
  if (wanted.tolerance) near(*read.tolerance, *wanted.tolerance);
  EXPECT_EQ(read.datum, wanted.datum);
}

TEST(FeatureListCsv, IsReadBackAsItWas) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    std::vector<FoundFeature> features;
    for (std::size_t i = 0; i < 30; ++i) features.push_back(drawn(draw, i));
    for (const char* units : {"mm", "in", "m"}) {
      SCOPED_TRACE(units);
      const std::string csv = feature_list_csv(features, units);
      ListOptions options;  // the header states the unit
      options.file = "features.csv";
      const auto list = parse_feature_list(csv, options);
      ASSERT_TRUE(list) << list.error()[0].where << ' ' << list.error()[0].allowed << '\n' << csv;
      ASSERT_EQ(list->features.size(), features.size());
      const double bound = std::string(units) == "mm" ? 0 : 1e-15;
      for (std::size_t i = 0; i < features.size(); ++i) {
        SCOPED_TRACE("feature " + std::to_string(i));
        expect_same(list->features[i].feature, features[i], bound);
      }
    }
  }
}

TEST(FeatureListCsv, LeavesOutTheColumnsThatNothingFills) {
  FoundFeature point;
  point.name = "p";
  point.kind = FoundKind::point;
  point.centre = {1.5, -0.0, 3};
  EXPECT_EQ(feature_list_csv({point}, "mm"),
            "name,type,x [mm],y [mm],z [mm],i,j,k\r\np,point,1.5,0,3,0,0,1\r\n");
}

}  // namespace
}  // namespace standpoint
