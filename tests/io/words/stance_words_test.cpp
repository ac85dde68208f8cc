// How an instrument stands, in words. Angles by hand.

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "io/words/stance_words.h"

namespace standpoint {
namespace {

/// Leaning toward +X by so many degrees.
Vec3 leaning(double degrees) {
  const double angle = degrees * std::numbers::pi / 180;
  return {std::sin(angle), 0, std::cos(angle)};
}

TEST(StanceWords, SayUprightTiltedOnItsSideOrHanging) {
  EXPECT_EQ(stance_words(Vec3::UnitZ()), "upright");
  EXPECT_EQ(stance_words(leaning(0.04)), "upright");
  EXPECT_EQ(stance_words(leaning(0.06)), "tilted by 0.1 degrees");
  EXPECT_EQ(stance_words(leaning(30)), "tilted by 30.0 degrees");
  EXPECT_EQ(stance_words(leaning(89.9)), "tilted by 89.9 degrees");
  EXPECT_EQ(stance_words(Vec3::UnitY()), "on its side");
  EXPECT_EQ(stance_words(leaning(90.04)), "on its side");
  EXPECT_EQ(stance_words(leaning(100)), "hanging, tilted by 80.0 degrees");
  EXPECT_EQ(stance_words(-Vec3::UnitZ()), "hanging, head down");
}

TEST(StanceWords, TellWhereTheHeadPoints) {
  EXPECT_EQ(stance_with_head(-Vec3::UnitY()), "on its side, its head toward (0, -1, 0)");
  EXPECT_EQ(stance_with_head(leaning(30)),
            "tilted by 30.0 degrees, its head toward (0.5, 0, 0.866)");
  EXPECT_EQ(stance_with_head(Vec3(-1e-9, 0, -1)), "hanging, head down, its head toward (0, 0, -1)");
  EXPECT_EQ(after_place(Vec3::UnitX()), ", the instrument on its side, its head toward (1, 0, 0)");
  EXPECT_EQ(after_place(Vec3::UnitZ()), "");
}

TEST(StanceWords, StandInATableBesideTheZone) {
  Scene scene;
  scene.zones = {{"aisle", 0, {}, {}, 1}};
  PlannedStation station;
  EXPECT_EQ(where_words(scene, station), "fixed place");
  station.zone = 0;
  EXPECT_EQ(where_words(scene, station), "aisle");
  station.up = -Vec3::UnitZ();
  EXPECT_EQ(where_words(scene, station), "aisle; hanging, head down");
}

}  // namespace
}  // namespace standpoint
