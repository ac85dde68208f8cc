#include "io/read/bodies/body_check.h"

#include <gtest/gtest.h>

namespace standpoint {
namespace {

using Kind = BodyRemark::Kind;

BodyReport sized(const Vec3& size, double mm_per_unit = 1) {
  BodyReport report;
  report.mm_per_unit = mm_per_unit;
  report.low = Vec3(100, 200, 300);
  report.high = report.low + size;
  return report;
}

std::vector<Kind> kinds(const std::vector<BodyRemark>& found) {
  std::vector<Kind> result;
  for (const BodyRemark& remark : found) {
    result.push_back(remark.kind);
  }
  return result;
}

TEST(BodyRemarks, PlainSceneHasNone) {
  // A hall, a bedplate, a fixture block and a dowel.
  EXPECT_TRUE(remarks({sized({14000, 21000, 9000}), sized({3000, 2000, 400}),
                       sized({300, 200, 150}), sized({100, 20, 20})})
                  .empty());
  EXPECT_TRUE(remarks({}).empty());
  EXPECT_TRUE(remarks({sized({1, 1, 1})}).empty());
}

TEST(BodyRemarks, BladeThatSaysMillimetresAndMeansMetresIsTooSmall) {
  const auto found =
      remarks({sized({5000, 5000, 3000}), sized({120, 6, 4}, 1), sized({4000, 3000, 3000})});
  ASSERT_TRUE(found.empty()) << "a factor of 50 may be honest";
  const auto far =
      remarks({sized({50000, 9000, 9000}), sized({117, 6, 4}, 1), sized({90000, 40000, 30000})});
  ASSERT_EQ(far.size(), 1U);
  EXPECT_EQ(far[0].body, BodyId(1));
  EXPECT_EQ(far[0].kind, Kind::too_small);
  ASSERT_TRUE(far[0].fitting_mm_per_unit);
  EXPECT_EQ(*far[0].fitting_mm_per_unit, 1000);
}

TEST(BodyRemarks, MillimetresTakenForMetresAreTooLarge) {
  const auto found = remarks({sized({300, 200, 100}), sized({250e3, 180e3, 90e3}, 1000),
                              sized({400, 300, 200}), sized({500, 100, 100})});
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].body, BodyId(1));
  EXPECT_EQ(found[0].kind, Kind::too_large);
  EXPECT_EQ(found[0].fitting_mm_per_unit, 1.0);
}

TEST(BodyRemarks, OfTwoBodiesEachIsOddToTheOther) {
  EXPECT_EQ(kinds(remarks({sized({1, 2, 3}), sized({1500, 2000, 3500})})),
            (std::vector<Kind>{Kind::too_small, Kind::too_large}));
}

TEST(BodyRemarks, SameShapeInInchesIsToldOnceWhateverItsPose) {
  const Vec3 block(12, 7, 3);
  const auto found = remarks({sized(block), sized(25.4 * Vec3(3, 12, 7)), sized({40, 50, 60})});
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].body, BodyId(1));
  EXPECT_EQ(found[0].kind, Kind::same_in_other_unit);
  EXPECT_EQ(found[0].ratio, 25.4);
  EXPECT_EQ(found[0].other, BodyId(0));
  EXPECT_TRUE(remarks({sized(block), sized(25.4 * Vec3(3, 12, 7.1)), sized({40, 50, 60})}).empty());
}

TEST(BodyRemarks, FlatBodyIsNoTwinOfAnother) {
  EXPECT_TRUE(remarks({sized({1, 1, 0}), sized({25.4, 25.4, 0})}).empty());
}

TEST(BodyRemarks, WhatTheFilesSayIsTold) {
  std::vector<BodyReport> reports(2, sized({10, 20, 30}));
  reports[0].mm_per_unit = 1000;
  reports[0].stated_mm_per_unit = 1;
  reports[0].up_axis = 'Y';
  reports[0].lost_faces = {"face 3"};
  reports[0].fanned_polygons = 2;
  reports[0].defects.open_edges = 4;
  reports[0].defects.duplicate_triangles = 1;
  reports[1].stated_mm_per_unit = 1;
  reports[1].up_axis = 'Z';
  const auto found = remarks(reports);
  EXPECT_EQ(kinds(found),
            (std::vector<Kind>{Kind::unit_contradicts, Kind::up_axis_differs, Kind::lost_faces,
                               Kind::fanned_polygons, Kind::defects}));
  EXPECT_EQ(found[0].ratio, 1000);
  EXPECT_EQ(found[2].count, 1U);
  EXPECT_EQ(found[3].count, 2U);
  EXPECT_EQ(found[4].count, 5U);
}

TEST(BodyRemarks, BodyWithoutExtentIsNoMeasure) {
  EXPECT_TRUE(remarks({sized({0, 0, 0}), sized({10, 10, 10}), sized({20, 20, 20})}).empty());
}

}  // namespace
}  // namespace standpoint
