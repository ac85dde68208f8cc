#include "io/words/lengths.h"

#include <limits>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

Scene in(const std::string& units, double mm_per_unit) {
  Scene scene;
  scene.units = units;
  scene.mm_per_unit = mm_per_unit;
  return scene;
}

TEST(LengthText, ShowsAsManyDigitsAsTheStepNeedsInAnyUnit) {
  EXPECT_EQ(length_text(in("mm", 1), 1834.26, 1), "1834");
  EXPECT_EQ(length_text(in("mm", 1), 12.34, 0.1), "12.3");
  EXPECT_EQ(length_text(in("m", 1000), 1834.26, 1), "1.834");
  EXPECT_EQ(length_text(in("m", 1000), 12.34, 0.1), "0.0123");
  EXPECT_EQ(length_text(in("cm", 10), 12.34, 0.1), "1.23");
  // 1 mm is 0.039 in: two decimals.
  EXPECT_EQ(length_text(in("in", 25.4), 254, 1), "10.00");
  // A step above the unit shows whole units.
  EXPECT_EQ(length_text(in("mm", 1), 1234, 100), "1234");
}

TEST(LengthText, NeverShowsMinusZeroOrNoNumber) {
  EXPECT_EQ(length_text(in("mm", 1), -0.04, 0.1), "0.0");
  EXPECT_EQ(length_text(in("mm", 1), -0.0, 1), "0");
  EXPECT_EQ(length_text(in("mm", 1), -0.06, 0.1), "-0.1");
  EXPECT_EQ(length_text(in("mm", 1), std::numeric_limits<double>::infinity(), 1), "-");
  EXPECT_EQ(length_text(in("mm", 1), std::numeric_limits<double>::quiet_NaN(), 1), "-");
}

TEST(PlaceText, JoinsThreeLengths) {
  EXPECT_EQ(place_text(in("mm", 1), {1200, -0.2, 350}, 1), "1200, 0, 350");
  EXPECT_EQ(length_with_unit(in("mm", 1), 12.34, 0.1), "12.3 mm");
}

}  // namespace
}  // namespace standpoint
