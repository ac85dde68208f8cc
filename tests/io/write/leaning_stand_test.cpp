// The outline of an instrument that does not stand upright, as the drawings have it.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "io/write/drawings/drawing_marks.h"

namespace standpoint {
namespace {

/// The corners of the outline, sheet units.
std::vector<Vec2> outline_of(const std::string& svg) {
  const std::string head = "class=\"stand\" d=\"";
  const std::size_t begin = svg.find(head) + head.size();
  std::string path = svg.substr(begin, svg.find('"', begin) - begin);
  for (char& c : path)
    if (c == 'M' || c == 'L' || c == 'Z') c = ' ';
  std::istringstream numbers(path);
  std::vector<Vec2> corners;
  for (double x = 0, y = 0; numbers >> x >> y;) corners.emplace_back(x, y);
  return corners;
}

TEST(LeaningStand, IsTheHullOfItsBodyToScale) {
  Instrument instrument;
  instrument.body_radius = 100;
  instrument.body_above = 200;
  instrument.body_below = 300;
  const Sheet sheet{View{}, {{-1000, -1000}, {1000, 1000}}, 0.1};  // from above, 200 units wide
  // On its side, its head toward +X: from above a box from x = -300 to 200, y = -100 to 100.
  const auto side =
      outline_of(stand_as_it_leans(sheet, {Vec3(0, 0, 0), Vec3::UnitX()}, instrument));
  ASSERT_GE(side.size(), 4U);
  Vec2 low = side[0], high = side[0];
  for (const Vec2& corner : side) {
    low = low.cwiseMin(corner);
    high = high.cwiseMax(corner);
  }
  EXPECT_NEAR(low.x(), 70, 0.11);
  EXPECT_NEAR(high.x(), 120, 0.11);
  EXPECT_NEAR(low.y(), 90, 0.11);
  EXPECT_NEAR(high.y(), 110, 0.11);
  // Hanging: a round of the body's radius.
  for (const Vec2& corner :
       outline_of(stand_as_it_leans(sheet, {Vec3(0, 0, 0), -Vec3::UnitZ()}, instrument)))
    EXPECT_NEAR((corner - Vec2(100, 100)).norm(), 10, 0.11);
}

TEST(LeaningStand, AKeepOutIsCrossedFromEachCornerToItsMiddle) {
  const Sheet sheet{View{}, {{0, 0}, {100, 100}}, 1};
  const std::string svg = keep_out_area(sheet, {{10, 10}, {30, 10}, {30, 30}, {10, 30}});
  EXPECT_THAT(svg, testing::HasSubstr("class=\"keep-out\""));
  EXPECT_THAT(svg, testing::HasSubstr("M10 90L20 80"));
  EXPECT_THAT(svg, testing::HasSubstr("M30 70L20 80"));
}

}  // namespace
}  // namespace standpoint
