#include "planner/part/feature_names.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace standpoint {
namespace {

Placed hole(double diameter, const Vec3& place, const Vec3& axis = Vec3::UnitZ()) {
  Placed placed;
  placed.feature.kind = FoundKind::hole;
  placed.feature.diameter = diameter;
  placed.feature.axis = axis;
  placed.place = place;
  return placed;
}

TEST(FeatureNames, SizesHaveThreeDecimalsRoundedHalfUp) {
  EXPECT_EQ(size_text(20), "20");
  EXPECT_EQ(size_text(8.38), "8.38");
  EXPECT_EQ(size_text(0.1875 * 25.4), "4.763") << "4.7625, which no double is";
  EXPECT_EQ(size_text(4.7625 - 1e-12), "4.763");
  EXPECT_EQ(size_text(4.7624), "4.762");
  EXPECT_EQ(size_text(0.05), "0.05");
  EXPECT_EQ(size_text(9.9996), "10");
  EXPECT_EQ(size_text(0), "0");
}

TEST(FeatureNames, SmallerSizesComeFirst) {
  const auto found =
      named({hole(20, Vec3::Zero()), hole(9.5, Vec3::Zero()), hole(100, Vec3::Zero())});
  EXPECT_EQ(found[0].name, "hole-9.5-1");
  EXPECT_EQ(found[1].name, "hole-20-1");
  EXPECT_EQ(found[2].name, "hole-100-1");
}

/// The x of all differs by rounding alone, so that y decides, whichever rounding there is.
TEST(FeatureNames, RoundingDoesNotNumberThem) {
  for (const double noise : {-1e-9, 0.0, 1e-9}) {
    const auto found = named({hole(20, {10 + noise, 30, 0}), hole(20, {10 - noise, 20, 0}),
                              hole(20, {10, 40, 0}), hole(20, {9, 90, 0})});
    EXPECT_NEAR(found[0].centre.norm(), 0, 1);
    ASSERT_EQ(found.size(), 4U);
    EXPECT_EQ(found[3].name, "hole-20-4");
  }
  const auto found =
      named({hole(20, {10 + 1e-9, 20, 0}, -Vec3::UnitZ()), hole(20, {10, 30, 0}, Vec3::UnitZ())});
  EXPECT_EQ(found[0].axis, -Vec3::UnitZ()) << "y decides before the rounding of x";
}

}  // namespace
}  // namespace standpoint
