#include "io/write/words/why_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::EndsWith;
using testing::HasSubstr;
using testing::Not;

/// In millimetres.
Scene scene_in_mm() {
  Scene scene = hand_made::scene();
  scene.units = "mm";
  scene.mm_per_unit = 1;
  return scene;
}

/// Of column-a, face 3, at (1000, 0, 500), seen from (0, -2000, 500); its side is +X: on the right.
Obstruction body(double margin, bool stops) {
  Obstruction result;
  result.body = hand_made::kColumn;
  result.triangle = TriangleId(std::size_t{0});
  result.distance = 1834.2;
  result.margin = margin;
  result.face = "face 3";
  result.at = {1000, 0, 500};
  result.side = Vec3::UnitX();
  result.stops = stops;
  return result;
}

std::string sentence(Pierced pierced, double margin, bool stops, const Vec3& station) {
  return obstruction_sentence(scene_in_mm(), pierced, station, body(margin, stops));
}

const Vec3 kSouth(1000, -2000, 500);

TEST(ObstructionSentence, ABeamIsMetFromAPlaceOnAtItsAxisOrItsRim) {
  EXPECT_EQ(sentence(Pierced::beam, -12.4, true, kSouth),
            "column-a, face 3: in the beam from 1834 mm on, 12.4 mm deep, on the right; it stops "
            "the axis");
  EXPECT_THAT(sentence(Pierced::beam, -1.5, false, kSouth), EndsWith("it only clips the rim"));
}

TEST(ObstructionSentence, WhatABeamOnlyPassesIsBesideIt) {
  const std::string words = sentence(Pierced::beam, 2.1, false, kSouth);
  EXPECT_EQ(words,
            "column-a, face 3: beside the beam from 1834 mm on, 2.1 mm away at the least, on the "
            "right");
  EXPECT_THAT(words, Not(HasSubstr("clips")));
}

TEST(ObstructionSentence, WhatIsHeldHasNoPlaceAlongABeam) {
  EXPECT_EQ(sentence(Pierced::shank, -3.1, true, kSouth),
            "column-a, face 3: 3.1 mm deep in the shank, on the right; it crosses its axis");
  EXPECT_EQ(sentence(Pierced::shank, -1.1, false, kSouth),
            "column-a, face 3: 1.1 mm deep in the shank, on the right");
  EXPECT_EQ(sentence(Pierced::head, -4, false, kSouth),
            "column-a, face 3: 4.0 mm deep in the head, on the right");
  EXPECT_EQ(sentence(Pierced::rod_ball, -4, true, kSouth),
            "column-a, face 3: 4.0 mm deep in a ball of the rod, on the right; it reaches its "
            "centre");
  EXPECT_EQ(sentence(Pierced::ball, -0.5, false, kSouth),
            "column-a, face 3: 0.5 mm deep in the ball, on the right");
  EXPECT_EQ(sentence(Pierced::tip, -0.5, false, kSouth),
            "column-a, face 3: 0.5 mm deep in the tip, on the right");
}

TEST(ObstructionSentence, SidesAreThoseOfSomebodyAtTheInstrument) {
  // From the north the same side is on the left; from the west the body is beyond the axis, from
  // the east before it.
  EXPECT_THAT(sentence(Pierced::head, -4, false, {1000, 2000, 500}), EndsWith("on the left"));
  EXPECT_THAT(sentence(Pierced::head, -4, false, {-2000, 0, 500}), EndsWith("on the far side"));
  EXPECT_THAT(sentence(Pierced::head, -4, false, {4000, 0, 500}), EndsWith("on the near side"));
}

TEST(ObstructionSentence, EachCauseSaysWhatItIsThatIsPierced) {
  const Scene scene = scene_in_mm();
  const auto of = [&](TargetId target, Rule rule) {
    Cause cause;
    cause.target = target;
    cause.rule = rule;
    return pierced_by(scene, cause);
  };
  EXPECT_EQ(of(hand_made::kBall, Rule::beam), Pierced::beam);
  EXPECT_EQ(of(hand_made::kBall, Rule::no_fit), Pierced::ball);
  EXPECT_EQ(of(hand_made::kMirror, Rule::no_fit), Pierced::tip);
  EXPECT_EQ(of(hand_made::kMirror, Rule::shank), Pierced::shank);
  EXPECT_EQ(of(hand_made::kMirror, Rule::head), Pierced::head);
  EXPECT_EQ(of(hand_made::kRod, Rule::head), Pierced::rod_ball);
  EXPECT_EQ(of(hand_made::kRod, Rule::beam), Pierced::beam);
}

Cure stylus_cure(double shank, double head) {
  Cure cure;
  cure.kind = CureKind::planned_station;
  cure.name = "S2";
  cure.station = {3000, 0, 1400};
  cure.target = hand_made::kMirror;
  cure.verdict = Verdict::offset_stylus;
  cure.margin = 4.5;
  cure.shank_direction = Vec3(0.6, 0, 0.8);
  cure.shank_clearance = shank;
  cure.head_clearance = head;
  return cure;
}

TEST(CureSentence, SaysHowAStylusIsHeldAndItsSpace) {
  EXPECT_EQ(cure_sentence(scene_in_mm(), stylus_cure(3.4, 12.6)),
            "Measure it from the plan's station S2 at (3000, 0, 1400) mm: then mirror-6 reaches, "
            "held up and toward +X (0.60, 0.00, 0.80) where it is tightest, its shank 3.4 mm "
            "clear, its head 12.6 mm clear, with a margin of 4.5 mm; gains nothing else, loses "
            "none.");
  EXPECT_THAT(cure_sentence(scene_in_mm(), stylus_cure(-0.1, HUGE_VAL)),
              HasSubstr("its shank 0.100 mm into a body, as fit_tolerance allows, its head clear "
                        "of everything,"));
}

}  // namespace
}  // namespace standpoint
