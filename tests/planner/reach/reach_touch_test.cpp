// Where a ball is laid to take a feature: docs/touches.md.

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "geometry/vec.h"
#include "planner/model/touch.h"
#include "planner/reach/element.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

Feature feature_of(Shape shape, std::optional<int> count = {}) {
  Feature feature;
  feature.shape = std::move(shape);
  feature.touch_count = count;
  return feature;
}

Rules rules() {
  return bare_scene().rules;
}

const Vec3 kAxis = Vec3(1, -2, 2) / 3;
const Vec3 kCentre(80, 40, 50);

HoleFeature hole(double diameter, double depth) {
  return {kCentre, kAxis, diameter / 2, depth};
}

/// The ball touches: its centre is its radius off the contact, along the normal.
void expect_touching(const TouchSet& set, double radius) {
  for (const Touch& touch : set.touches) {
    EXPECT_NEAR(touch.normal.norm(), 1, 1e-12);
    EXPECT_LT((touch.optical_centre - (touch.at + radius * touch.normal)).norm(), 1e-9);
  }
}

TEST(Touches, APointIsOneTouchWithTheBallOnIt) {
  const auto sets = touch_sets(feature_of(PointFeature{{1, 2, 3}, kAxis}), 19.05, rules());
  ASSERT_EQ(sets.size(), 1u);
  ASSERT_EQ(sets[0].touches.size(), 1u);
  EXPECT_EQ(sets[0].way, Way::surface);
  EXPECT_EQ(sets[0].touches[0].at, Vec3(1, 2, 3));
  expect_touching(sets[0], 19.05);
}

TEST(Touches, APlaneIsTouchedAtItsPoints) {
  const PlaneFeature plane{{{0, 0, 5}, {50, 0, 5}, {50, 40, 5}, {0, 40, 5}}, Vec3::UnitZ()};
  const auto sets = touch_sets(feature_of(plane), 3, rules());
  ASSERT_EQ(sets.size(), 1u);
  ASSERT_EQ(sets[0].touches.size(), 4u);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(sets[0].touches[i].at, plane.points[i]);
  expect_touching(sets[0], 3);
}

TEST(Touches, RimSeatOfASixMillimetreBallInAFiveMillimetreHole) {
  // sqrt(3^2 - 2.5^2) = 1.6583 above the rim (first principles; checks.md, "Geometry and fit").
  const auto sets = touch_sets(feature_of(hole(5, 12)), 3, rules());
  ASSERT_EQ(sets.size(), 1u);
  EXPECT_EQ(sets[0].way, Way::rim);
  ASSERT_EQ(sets[0].touches.size(), 1u);
  const Touch& touch = sets[0].touches[0];
  EXPECT_EQ(touch.at, kCentre);
  EXPECT_EQ(touch.normal, kAxis);
  const Vec3 above = touch.optical_centre - kCentre;
  EXPECT_NEAR(above.norm(), 1.6583, 5e-5);
  EXPECT_NEAR(above.dot(kAxis), above.norm(), 1e-12);
  // Every point of the rim is the ball's radius away.
  for (const Vec3& p : polygon(kCentre, kAxis, 2.5, 12)) {
    EXPECT_NEAR((p - touch.optical_centre).norm(), 3, 1e-12);
  }
}

TEST(Touches, ABallTooLargeForTheRimDoesNotCentreItself) {
  // asin(5 / 38.1) = 7.54 degrees, below 20 (common practice; checks.md).
  EXPECT_TRUE(touch_sets(feature_of(hole(5, 12)), 19.05, rules()).empty());
  Rules wide = rules();
  wide.rim_contact_rad = {7.5 * kDeg, 75 * kDeg};
  EXPECT_EQ(touch_sets(feature_of(hole(5, 12)), 19.05, wide).size(), 1u);
  wide.rim_contact_rad.low = 7.55 * kDeg;
  EXPECT_TRUE(touch_sets(feature_of(hole(5, 12)), 19.05, wide).empty());
}

TEST(Touches, ABallTooTightForTheRimWedges) {
  // d = 2 R sin(75 degrees) is the limit.
  const double limit = 2 * 3 * std::sin(75 * kDeg);
  EXPECT_EQ(touch_sets(feature_of(hole(limit - 1e-6, 12)), 3, rules()).size(), 1u);
  EXPECT_TRUE(touch_sets(feature_of(hole(limit + 1e-6, 12)), 3, rules()).empty());
}

TEST(Touches, ABallAsLargeAsTheHoleTakesItNoWay) {
  Rules any = rules();
  any.rim_contact_rad = {0, 90 * kDeg};
  EXPECT_TRUE(touch_sets(feature_of(hole(6, 12)), 3, any).empty());
  EXPECT_TRUE(touch_sets(feature_of(CylinderFeature{kCentre, kAxis, 3, 12, true}), 3, any).empty());
  EXPECT_FALSE(
      touch_sets(feature_of(CylinderFeature{kCentre, kAxis, 3, 12, false}), 3, any).empty());
}

TEST(Touches, ASmallerBallTouchesTheWallHalfWayDownThenShallower) {
  const auto sets = touch_sets(feature_of(hole(50, 40)), 3, rules());
  ASSERT_EQ(sets.size(), 2u);
  const double downs[] = {20, 3};  // half of 40; the ball's radius
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(sets[k].way, Way::wall);
    ASSERT_EQ(sets[k].touches.size(), 7u);  // BS 7172:1989 as remembered: circle 3 / 7
    expect_touching(sets[k], 3);
    for (const Touch& touch : sets[k].touches) {
      const Vec3 r = touch.at - kCentre;
      EXPECT_NEAR(r.dot(kAxis), -downs[k], 1e-12);
      EXPECT_NEAR((r - r.dot(kAxis) * kAxis).norm(), 25, 1e-12) << "on the wall";
      EXPECT_NEAR(touch.normal.dot(kAxis), 0, 1e-12);
      EXPECT_LT(touch.normal.dot(r), 0) << "out of the material: towards the axis";
    }
  }
}

TEST(Touches, TheWallIsTouchedNoDeeperThanTheBallComes) {
  // Depth 5, radius 3: the ball rests on the floor 2 down, not 2.5.
  const auto shallow = touch_sets(feature_of(hole(50, 5)), 3, rules());
  ASSERT_EQ(shallow.size(), 1u);
  EXPECT_NEAR((shallow[0].touches[0].at - kCentre).dot(kAxis), -2, 1e-12);
  // Depth 3: it would stand out of the rim.
  EXPECT_TRUE(touch_sets(feature_of(hole(50, 3)), 3, rules()).empty());
  // A point comes anywhere.
  const auto point = touch_sets(feature_of(hole(50, 4)), 0, rules());
  ASSERT_EQ(point.size(), 2u);
  EXPECT_NEAR((point[0].touches[0].at - kCentre).dot(kAxis), -2, 1e-12);
  EXPECT_NEAR((point[1].touches[0].at - kCentre).dot(kAxis), -0.5, 1e-12);
}

TEST(Touches, CylinderIsTouchedInRingsFromItsRightSide) {
  for (const bool inside : {true, false}) {
    const CylinderFeature cylinder{kCentre, kAxis, 90, 120, inside};
    const auto sets = touch_sets(feature_of(cylinder), 19.05, rules());
    ASSERT_EQ(sets.size(), 1u);
    ASSERT_EQ(sets[0].touches.size(), 12u);
    expect_touching(sets[0], 19.05);
    std::set<long> heights;
    for (const Touch& touch : sets[0].touches) {
      const Vec3 r = touch.at - kCentre;
      const double z = r.dot(kAxis);
      EXPECT_LE(std::abs(z), 0.4 * 120 + 1e-9) << "a tenth inside the ends";
      EXPECT_NEAR((r - z * kAxis).norm(), 90, 1e-9);
      EXPECT_NEAR(touch.normal.dot(r - z * kAxis) / 90, inside ? -1 : 1, 1e-12);
      heights.insert(std::lround(z));
    }
    EXPECT_EQ(heights, (std::set<long>{-48, 0, 48}));
  }
}

TEST(Touches, SphereIsTouchedFromItsPoleToWithin75Degrees) {
  const SphereFeature sphere{kCentre, kAxis, 30};
  const auto sets = touch_sets(feature_of(sphere), 3, rules());
  ASSERT_EQ(sets.size(), 1u);
  ASSERT_EQ(sets[0].touches.size(), 9u);  // BS 7172:1989 as remembered: sphere 4 / 9
  expect_touching(sets[0], 3);
  EXPECT_LT((sets[0].touches[0].normal - kAxis).norm(), 1e-12);
  for (const Touch& touch : sets[0].touches) {
    EXPECT_LT((touch.at - (kCentre + 30 * touch.normal)).norm(), 1e-9);
    EXPECT_LE(angle_between(touch.normal, kAxis), 75 * kDeg + 1e-9);
  }
}

TEST(Touches, ALineIsTouchedAtEvenStepsALittleInsideItsEnds) {
  const LineFeature line{{0, 0, 5}, {100, 0, 5}, Vec3::UnitZ()};
  const auto sets = touch_sets(feature_of(line), 3, rules());
  ASSERT_EQ(sets.size(), 1u);
  ASSERT_EQ(sets[0].touches.size(), 5u);
  expect_touching(sets[0], 3);
  const double places[] = {10, 30, 50, 70, 90};
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_LT((sets[0].touches[i].at - Vec3(places[i], 0, 5)).norm(), 1e-12);
    EXPECT_EQ(sets[0].touches[i].normal, Vec3::UnitZ());
  }
}

TEST(Touches, AConeIsTouchedInRingsOnItsWallFromItsRightSide) {
  constexpr double kHalf = 20 * kDeg;
  const Vec3 tip = kCentre + 90 / std::tan(kHalf) * kAxis;
  for (const bool inside : {true, false}) {
    const auto sets =
        touch_sets(feature_of(ConeFeature{kCentre, kAxis, 90, kHalf, 120, inside}), 19.05, rules());
    ASSERT_EQ(sets.size(), 1u);
    ASSERT_EQ(sets[0].touches.size(), 12u);
    expect_touching(sets[0], 19.05);
    std::set<long> heights;
    for (const Touch& touch : sets[0].touches) {
      EXPECT_NEAR(angle_between(touch.at - tip, -kAxis), kHalf, 1e-12) << "on the wall";
      EXPECT_NEAR(touch.normal.dot(touch.at - tip), 0, 1e-9) << "square to the wall";
      // Outside the normal leans toward the tip and away from the axis.
      EXPECT_NEAR(touch.normal.dot(kAxis), (inside ? -1 : 1) * std::sin(kHalf), 1e-12);
      heights.insert(std::lround((touch.at - kCentre).dot(kAxis)));
    }
    EXPECT_EQ(heights, (std::set<long>{-48, 0, 48}));
  }
}

TEST(Touches, OutsideAConeABallMayBeOfAnySize) {
  const ConeFeature cone{kCentre, kAxis, 20, 70 * kDeg, 8, false};
  EXPECT_EQ(touch_sets(feature_of(cone), 500, rules()).size(), 1u);
}

TEST(Touches, RoundWallsHaveTwoRingsUnderNineTouchesElseThreeEachTurnedByHalfAStep) {
  for (const auto& [count, rings] : {std::pair{6, 2}, {8, 2}, {9, 3}, {12, 3}}) {
    const ConeFeature cone{kCentre, kAxis, 90, 20 * kDeg, 120, false};
    const auto sets = touch_sets(feature_of(cone, count), 3, rules());
    std::map<long, std::vector<Vec3>> by_height;  // across the axis, unit
    for (const Touch& touch : sets.at(0).touches) {
      const double height = (touch.at - kCentre).dot(kAxis);
      by_height[std::lround(height)].push_back((touch.at - kCentre - height * kAxis).normalized());
    }
    ASSERT_EQ(by_height.size(), static_cast<std::size_t>(rings)) << count;
    const double half_step = std::acos(-1.0) * rings / count;
    for (auto ring = by_height.begin(), next = std::next(ring); next != by_height.end();
         ++ring, ++next) {
      for (const Vec3& out : next->second) {
        double least = HUGE_VAL;
        for (const Vec3& other : ring->second) least = std::min(least, angle_between(out, other));
        EXPECT_NEAR(least, half_step, 1e-9) << count;
      }
    }
  }
}

/// How far a place is from the wall of a cone, inside: derived from the angle at its tip.
double off_wall(const ConeFeature& cone, const Vec3& at) {
  const Vec3 r = at - (cone.centre + cone.radius / std::tan(cone.half_angle_rad) * cone.axis);
  return r.norm() * std::sin(cone.half_angle_rad - angle_between(r, -cone.axis));
}

TEST(Touches, ABallInsideAConeTouchesNothingElseOfIt) {
  Draw draw(77);
  int takes = 0, refused = 0;
  for (int i = 0; i < 2000; ++i) {
    const double half = draw.between(3, 80) * kDeg, radius = draw.between(5, 60);
    const double longest = 2 * radius / std::tan(half);
    const ConeFeature cone{kCentre, kAxis, radius, half, draw.between(0.1, 1) * longest, true};
    const double ball = draw.between(0.1, 1.5) * radius;
    const auto sets = touch_sets(feature_of(cone), ball, rules());
    (sets.empty() ? refused : takes) += 1;
    if (sets.empty()) {
      // At the narrowest ring it would reach through the wall over there.
      const double narrow = radius - 0.4 * cone.length * std::tan(half);
      const Vec3 x = any_perpendicular(kAxis);
      const Vec3 at = kCentre + 0.4 * cone.length * kAxis + narrow * x;
      const Vec3 centre = at - ball * (std::cos(half) * x + std::sin(half) * kAxis);
      EXPECT_LE(off_wall(cone, centre), ball + 1e-9) << "seed 77, case " << i;
      EXPECT_LE((centre - kCentre).dot(x), 1e-9) << "seed 77, case " << i;
      continue;
    }
    for (const Touch& touch : sets[0].touches)
      EXPECT_NEAR(off_wall(cone, touch.optical_centre), ball, 1e-9) << "seed 77, case " << i;
  }
  EXPECT_GT(takes, 200);
  EXPECT_GT(refused, 200);
}

SlotFeature slot(double width, double length, double depth) {
  return {kCentre, kAxis, any_perpendicular(kAxis), width, length, depth};
}

/// How far a place is from the middle line of a slot, as seen along its axis.
double off_middle(const SlotFeature& slot, const Vec3& at) {
  const Vec3 r = at - slot.centre;
  const double u = r.dot(slot.along), v = r.dot(slot.axis.cross(slot.along));
  return std::hypot(std::max(std::abs(u) - (slot.length - slot.width) / 2, 0.0), v);
}

TEST(Touches, ASlotIsTouchedOnBothWallsAndBothEndsHalfWayDownThenShallower) {
  const SlotFeature made = slot(20, 70, 40);
  const auto sets = touch_sets(feature_of(made), 3, rules());
  ASSERT_EQ(sets.size(), 2u);
  const double downs[] = {20, 3};
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(sets[k].way, Way::wall);
    ASSERT_EQ(sets[k].touches.size(), 10u);
    expect_touching(sets[k], 3);
    int left = 0, right = 0, fore = 0, aft = 0;
    for (const Touch& touch : sets[k].touches) {
      EXPECT_NEAR((touch.at - kCentre).dot(kAxis), -downs[k], 1e-12);
      EXPECT_NEAR(off_middle(made, touch.at), 10, 1e-12) << "on the wall";
      EXPECT_NEAR(off_middle(made, touch.optical_centre), 7, 1e-12) << "toward the middle line";
      EXPECT_NEAR(touch.normal.dot(kAxis), 0, 1e-12);
      const double along = touch.normal.dot(made.along);
      const double across = touch.normal.dot(made.axis.cross(made.along));
      if (std::abs(along) > 1e-9) {
        (along < 0 ? fore : aft) += 1;
      } else {
        (across < 0 ? left : right) += 1;
      }
    }
    EXPECT_EQ(left, 3);
    EXPECT_EQ(right, 3);
    EXPECT_EQ(fore, 2);
    EXPECT_EQ(aft, 2);
  }
}

TEST(Touches, OfFiveTouchesInASlotEachEndHasOneAndTheWallsATenthFree) {
  const SlotFeature made = slot(20, 70, 40);
  for (const auto& [count, at_end] : {std::pair{6, 1}, {9, 1}, {19, 3}, {20, 4}}) {
    int ends = 0;
    double farthest = 0;
    const auto sets = touch_sets(feature_of(made, count), 3, rules());
    for (const Touch& touch : sets.at(0).touches) {
      if (std::abs(touch.normal.dot(made.along)) > 1e-9) {
        ++ends;
      } else {
        farthest = std::max(farthest, std::abs((touch.at - kCentre).dot(made.along)));
      }
    }
    EXPECT_EQ(ends, 2 * at_end) << count;
    EXPECT_NEAR(farthest, 0.4 * 50, 1e-9) << count;  // of the straight length
  }
}

TEST(Touches, ABallAsWideAsTheSlotOrWiderTakesItNoWay) {
  EXPECT_FALSE(touch_sets(feature_of(slot(20, 70, 40)), 9.999, rules()).empty());
  EXPECT_TRUE(touch_sets(feature_of(slot(20, 70, 40)), 10, rules()).empty());
  EXPECT_TRUE(touch_sets(feature_of(slot(20, 70, 40)), 19.05, rules()).empty());
}

TEST(Touches, ASurfaceIsTouchedWhereItsTouchesWereRaised) {
  SurfaceFeature surface;
  surface.touches = {{{1, 2, 3}, Vec3::UnitZ()}, {{4, 5, 6}, kAxis}};
  const auto sets = touch_sets(feature_of(surface), 19.05, rules());
  ASSERT_EQ(sets.size(), 1u);
  ASSERT_EQ(sets[0].touches.size(), 2u);
  expect_touching(sets[0], 19.05);
  EXPECT_EQ(sets[0].touches[1].at, Vec3(4, 5, 6));
  EXPECT_EQ(sets[0].touches[1].normal, kAxis);
}

TEST(Touches, AnyCountThatCanIsDistinctAndFixesTheElement) {
  const auto check = [](const Feature& feature, int count) {
    const TouchSet set = touch_sets(feature, 2, rules()).at(0);
    ASSERT_EQ(set.touches.size(), static_cast<std::size_t>(count));
    for (std::size_t i = 0; i < set.touches.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        EXPECT_GT((set.touches[i].at - set.touches[j].at).norm(), 1e-3) << i << " and " << j;
      }
    }
    EXPECT_TRUE(is_enough(feature, set, std::vector<bool>(set.touches.size(), true))) << count;
  };
  const LineFeature line{kCentre, kCentre + 90 * any_perpendicular(kAxis), kAxis};
  for (int count = 2; count <= 60; ++count) {
    check(feature_of(line, count), count);
    if (count < 3) continue;
    check(feature_of(hole(50, 40), count), count);
    if (count >= 4) check(feature_of(SphereFeature{kCentre, kAxis, 30}, count), count);
    if (count < 5) continue;
    check(feature_of(CylinderFeature{kCentre, kAxis, 90, 120, true}, count), count);
    check(feature_of(CylinderFeature{kCentre, kAxis, 90, 120, false}, count), count);
    check(feature_of(slot(20, 70, 40), count), count);
    check(feature_of(slot(20, 21, 40), count), count);
    if (count < 6) continue;
    for (const double half : {2 * kDeg, 35 * kDeg, 85 * kDeg}) {
      const double length = 1.9 * 90 / std::tan(half);
      check(feature_of(ConeFeature{kCentre, kAxis, 90, half, length, true}, count), count);
      check(feature_of(ConeFeature{kCentre, kAxis, 90, half, length, false}, count), count);
    }
  }
}

}  // namespace
}  // namespace standpoint::test
