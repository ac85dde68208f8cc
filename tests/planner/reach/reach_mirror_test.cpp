// A mirror stylus at one place: contract section 3, "mirror". Expected values are first principles.

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/vec.h"
#include "reach_probe.h"

namespace standpoint::test {
namespace {

const Vec3 kUp = Vec3::UnitZ();
/// The stylus of mirror_stylus(): tip 6 mm, 85 mm long, shank 4 mm, head 46 mm, swing 11 degrees.
/// Its tip's centre is put at the origin, in free space unless a test says otherwise.
const Place kFree{Vec3::Zero(), Vec3::UnitZ(), 0, false};
/// The beam runs along -x and is folded at x = 85.
const Vec3 kStation(3000, 0, 0);

MadeScene one_mirror_scene() {
  MadeScene scene = bare_scene();
  scene.offset_styli.emplace_back(mirror_stylus());
  return scene;
}

MirrorStylus& stylus(MadeScene& scene) {
  return std::get<MirrorStylus>(scene.offset_styli.at(0));
}

double beam_radius(double t) {
  return 3 + 0.1e-3 * t;
}

TEST(Mirror, StandsStraightAtTheInstrumentWhereThereIsRoom) {
  const auto outcome = look_at(one_mirror_scene(), 0, kFree, kStation);
  ASSERT_NE(reached(outcome), nullptr);
  EXPECT_LT((*reached(outcome)->shank_direction - Vec3::UnitX()).norm(), 1e-12);
  EXPECT_LT((reached(outcome)->beam_ends.at(0) - Vec3(85, 0, 0)).norm(), 1e-9);
}

TEST(Mirror, NothingIsAskedOfTheBeamsLastStretch) {
  // Beside the axis by more than the shank's radius (2), less than the beam's (3.2915).
  MadeScene scene = one_mirror_scene();
  stylus(scene).head_radius = 1;
  add_body(scene, "edge", box({20, 2.5, -50}, {60, 40, 50}));
  const auto outcome = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(reached(outcome), nullptr);
  EXPECT_NEAR(reached(outcome)->margin, std::hypot(25, 2.5) - beam_radius(2915), 1e-3);
  EXPECT_LT((*reached(outcome)->shank_direction - Vec3::UnitX()).norm(), 1e-12);
  // The same edge just before the mirror breaks the beam.
  scene.reshape(BodyId(0), box({90, 2.5, -50}, {125, 40, 50}));
  const auto before = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(cause(before), nullptr);
  EXPECT_EQ(cause(before)->rule, Rule::beam);
  EXPECT_EQ(cause(before)->body, BodyId(0));
}

TEST(Mirror, TheBeamAimsAtTheTipHoweverTheStylusIsHeld) {
  // A post in the straight head's way: the head goes aside, the beam does not.
  MadeScene scene = one_mirror_scene();
  add_body(scene, "post", box({84, 18, -200}, {86, 30, 200}));
  const auto outcome = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(reached(outcome), nullptr);
  EXPECT_LT((reached(outcome)->beam_ends.at(0) - Vec3(85, 0, 0)).norm(), 1e-9);
  EXPECT_NEAR(reached(outcome)->margin, 18 - beam_radius(2915), 1e-3);
}

/// A sheet beside the head, 18 from the beam: the head of radius 23 must go 4.8 the other way,
/// asin(4.8 / 85) = 3.24 degrees of swing.
MadeScene head_beside_a_sheet(double swing_deg) {
  MadeScene scene = one_mirror_scene();
  stylus(scene).swing_rad = swing_deg * kDeg;
  add_body(scene, "sheet", box({50, 18, -300}, {500, 19, 300}));
  return scene;
}

TEST(Mirror, SwingFindsRoomAsideAndRespectsItsLimit) {
  // 3.24 to 6 degrees leave a set that holds a disc of 2 degrees: it must be found.
  for (const double swing_deg : {6.0, 11.0, 45.0}) {
    const auto outcome = look_at(head_beside_a_sheet(swing_deg), 0, kFree, kStation);
    ASSERT_NE(reached(outcome), nullptr) << swing_deg;
    const Vec3 s = *reached(outcome)->shank_direction;
    EXPECT_NEAR(s.norm(), 1, 1e-12);
    EXPECT_LE(angle_between(s, Vec3::UnitX()), swing_deg * kDeg);
    EXPECT_LE(85 * s.y() + 23, 18 + 0.2) << "the head cuts the sheet";
    // The nearest to straight of the directions tried: not much beyond what is needed.
    EXPECT_LE(angle_between(s, Vec3::UnitX()), 6 * kDeg);
  }
}

TEST(Mirror, TooLittleSwingIsBlockedByWhatTheHeadMeets) {
  const auto outcome = look_at(head_beside_a_sheet(3.1), 0, kFree, kStation);
  ASSERT_NE(cause(outcome), nullptr);
  EXPECT_EQ(cause(outcome)->rule, Rule::head);
  EXPECT_EQ(cause(outcome)->body, BodyId(0));
  EXPECT_NEAR(*cause(outcome)->margin, 18 - 23, 1e-9);
  EXPECT_NEAR(*cause(outcome)->distance, 2915, 1e-6);
}

TEST(Mirror, ShankMeetsWhatTheBeamIsNotAskedOf) {
  MadeScene scene = one_mirror_scene();
  stylus(scene).head_radius = 1;
  stylus(scene).swing_rad = 0;
  const BodyId pin = add_body(scene, "pin", box({39, 1, -50}, {41, 30, 50}));
  const auto blocked = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(cause(blocked), nullptr);
  EXPECT_EQ(cause(blocked)->rule, Rule::shank);
  EXPECT_EQ(cause(blocked)->body, pin);
  EXPECT_NEAR(*cause(blocked)->margin, 1 - 2, 1e-9);
  // 40 from the tip, 1.2 aside is 1.7 degrees: with 4 there is a disc of 2 degrees.
  stylus(scene).swing_rad = 4 * kDeg;
  EXPECT_NE(reached(look_at(scene, 0, kFree, kStation)), nullptr);
}

TEST(Mirror, ShankMayCutByTheFitTolerance) {
  for (const auto& [y, is_free] : {std::pair{1.81, true}, {1.79, false}}) {
    MadeScene scene = one_mirror_scene();
    stylus(scene).head_radius = 1;
    stylus(scene).swing_rad = 0;
    add_body(scene, "pin", box({39, y, -50}, {41, 30, 50}));
    EXPECT_EQ(reached(look_at(scene, 0, kFree, kStation)) != nullptr, is_free) << y;
  }
}

TEST(Mirror, ShankBeginsAtTheTipsSurface) {
  // The capsule from C + r s reaches back to r - R of the shank: 1 from the tip's centre. A sheet
  // that touches the tip behind it is no matter of the shank.
  MadeScene scene = one_mirror_scene();
  stylus(scene).swing_rad = 0;
  add_body(scene, "sheet", box({-10, -50, -50}, {-2.9, 50, 50}));
  EXPECT_NE(reached(look_at(scene, 0, kFree, kStation)), nullptr);
}

TEST(Mirror, ThickShankTapersFromAPointTip) {
  // On a floor, held at elevation b: the shank's lowest point over the floor is at the taper's end,
  // 20 sin b - 2 >= -0.2, that is b >= asin(0.09) = 5.164 degrees.
  MadeScene scene = one_mirror_scene();
  stylus(scene).shank = {0, 2, 20};
  stylus(scene).head_radius = 1;
  stylus(scene).swing_rad = 0;
  scene.instrument.beam_diameter = 0.5;
  scene.instrument.beam_growth_rad = 0;
  add_body(scene, "floor", box({-500, -500, -50}, {500, 500, 0}), BodyRole::part);
  for (const auto& [off_deg, is_free] : {std::pair{0.01, true}, {-0.01, false}}) {
    const double b = std::asin(0.09) + off_deg * kDeg;
    const Vec3 station = 3000 * Vec3(std::cos(b), 0, std::sin(b));
    const auto outcome = look_at_point(scene, 0, Vec3::Zero(), kUp, station);
    EXPECT_EQ(reached(outcome) != nullptr, is_free) << b / kDeg;
    if (!is_free) {
      EXPECT_EQ(rule(outcome), Rule::shank);
    }
  }
  // Without its taper a capsule of radius 2 about the point would cut the floor at any angle.
  const auto steep = look_at_point(scene, 0, Vec3::Zero(), kUp, {2000, 0, 2000});
  EXPECT_NE(reached(steep), nullptr);
}

TEST(Mirror, TipMustFit) {
  for (const auto& [gap, fits] : {std::pair{2.81, true}, {2.79, false}}) {
    MadeScene scene = one_mirror_scene();
    const BodyId side = add_body(scene, "side", box({-5, gap, -5}, {0, gap + 5, 5}));
    const auto outcome = look_at(scene, 0, kFree, kStation);
    EXPECT_EQ(reached(outcome) != nullptr, fits) << gap;
    if (fits) continue;
    EXPECT_EQ(rule(outcome), Rule::no_fit);
    EXPECT_EQ(cause(outcome)->body, side);
    // In a nest the adaptor holds the tip: no fit is asked of it, the rest is.
    Place nest = kFree;
    nest.is_nest = true;
    EXPECT_NE(reached(look_at(scene, 0, nest, kStation)), nullptr);
  }
}

TEST(Mirror, RangeAndElevationAreThoseOfTheVirtualReflectorInTheTip) {
  MadeScene scene = one_mirror_scene();
  EXPECT_NE(reached(look_at(scene, 0, kFree, {40000, 0, 0})), nullptr);
  EXPECT_EQ(rule(look_at(scene, 0, kFree, {40000.001, 0, 0})), Rule::out_of_range);
  EXPECT_NE(reached(look_at(scene, 0, kFree, {400, 0, 0})), nullptr);
  EXPECT_EQ(rule(look_at(scene, 0, kFree, {399.999, 0, 0})), Rule::out_of_range);
  const double up_rad = std::atan2(800, 1000);
  scene.instrument.elevation_rad = {-up_rad + 1e-12, up_rad - 1e-12};
  EXPECT_EQ(rule(look_at(scene, 0, kFree, {1000, 0, 800})), Rule::elevation);
  EXPECT_EQ(rule(look_at(scene, 0, kFree, {1000, 0, -800})), Rule::elevation);
  scene.instrument.elevation_rad = {-up_rad - 1e-12, up_rad + 1e-12};
  EXPECT_NE(reached(look_at(scene, 0, kFree, {1000, 0, 800})), nullptr);
  EXPECT_NE(reached(look_at(scene, 0, kFree, {1000, 0, -800})), nullptr);
}

TEST(Mirror, AStationBetweenTipAndMirrorIsOutOfRange) {
  MadeScene scene = one_mirror_scene();
  scene.instrument.range = {0, 40000};
  EXPECT_EQ(rule(look_at(scene, 0, kFree, {75, 0, 0})), Rule::out_of_range);
  EXPECT_NE(reached(look_at(scene, 0, kFree, {95, 0, 0})), nullptr);
}

TEST(Mirror, NoAcceptanceIsAskedOfTheContact) {
  // The mirror is turned to the beam by hand: the contact may lie on any side of the tip.
  const MadeScene scene = one_mirror_scene();
  const Place facing_away{Vec3::Zero(), -Vec3::UnitX(), 0, false};
  EXPECT_NE(reached(look_at(scene, 0, facing_away, kStation)), nullptr);
}

}  // namespace
}  // namespace standpoint::test
