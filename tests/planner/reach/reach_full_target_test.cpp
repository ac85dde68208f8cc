// A full target at one place: contract section 3, rule by rule. Expected values are first
// principles unless a source is named beside them.

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "reach_probe.h"

namespace standpoint::test {
namespace {

constexpr double kR = 19.05;  // of the 38.1 mm ball
const Vec3 kUp = Vec3::UnitZ();

/// Radius of instrument()'s beam: (6 + 0.2e-3 t) / 2.
double beam_radius(double t) {
  return 3 + 0.1e-3 * t;
}

MadeScene one_ball_scene() {
  MadeScene scene = bare_scene();
  scene.full_targets.push_back(ball_target());
  return scene;
}

/// The station level with the ball on the origin, `distance` along +x: the beam runs along -x.
Vec3 level_station(double distance) {
  return {distance, 0, kR};
}

Outcome look_level(const MadeScene& scene, double distance) {
  return look_at_point(scene, 0, Vec3::Zero(), kUp, level_station(distance));
}

TEST(FullTarget, MarginOverAnOpenFloorIsSmallestWhereTheBeamMeetsTheBall) {
  MadeScene scene = one_ball_scene();
  add_body(scene, "floor", box({-5000, -5000, -100}, {5000, 5000, 0}), BodyRole::part);
  const Vec3 station(3000, 400, 1200);
  const auto outcome = look_at_point(scene, 0, Vec3::Zero(), kUp, station);
  ASSERT_NE(reached(outcome), nullptr);
  const Vec3 centre = kR * kUp;
  const Vec3 u = (station - centre).normalized();
  // Height of the beam's axis less its radius falls all the way; it ends at C + R u.
  const double length = (station - centre).norm() - kR;
  const double slope = 0.1e-3;
  const double height = kR * (1 + u.z());
  // Of all points of the plane the nearest in the sense of the margin lies ahead of the foot by
  // nothing that counts: the axis ends there, and the end's ball touches straight below.
  EXPECT_NEAR(reached(outcome)->margin, height - (3 + slope * length), 1e-9);
  EXPECT_LT((reached(outcome)->beam_ends.at(0) - (centre + kR * u)).norm(), 1e-9);
  EXPECT_FALSE(reached(outcome)->shank_direction);
}

TEST(FullTarget, MarginIsInfiniteWhereThereIsNoBody) {
  const auto outcome = look_level(one_ball_scene(), 3000);
  ASSERT_NE(reached(outcome), nullptr);
  EXPECT_EQ(reached(outcome)->margin, std::numeric_limits<double>::infinity());
}

TEST(FullTarget, ColumnBetweenIsNamedWithThePlaceWhereTheBeamIsFirstBroken) {
  MadeScene scene = one_ball_scene();
  add_body(scene, "aside", box({1400, 300, -100}, {1500, 400, 3000}));
  const BodyId column = add_body(scene, "column", box({1000, -50, -100}, {1100, 50, 3000}));
  add_body(scene, "behind column", box({500, -50, -100}, {600, 50, 3000}));
  const auto outcome = look_level(scene, 3000);
  ASSERT_NE(cause(outcome), nullptr);
  const Cause& why = *cause(outcome);
  EXPECT_EQ(why.rule, Rule::beam);
  EXPECT_EQ(why.body, column);
  // The face at x = 1100 is 1900 away: 1900 - t = 3 + 0.1e-3 t.
  EXPECT_NEAR(*why.distance, 1897 / 1.0001, 1e-5);
  // Of the whole beam: its axis pierces the last face, 2500 away.
  EXPECT_NEAR(*why.margin, -beam_radius(2500), 1e-9);
  EXPECT_LT((*why.at - Vec3(1100, 0, kR)).norm(), 1e-6);
}

TEST(FullTarget, CauseTellsTheTriangleOfTheBody) {
  MadeScene scene = one_ball_scene();
  Mesh mesh = box({1000, -50, -100}, {1100, 50, 3000});
  add_body(scene, "column", mesh);
  const auto outcome = look_level(scene, 3000);
  ASSERT_NE(cause(outcome), nullptr);
  for (const Vec3& corner : mesh.corners(cause(outcome)->triangle->index)) {
    EXPECT_EQ(corner.x(), 1100) << "not the face that the beam meets first";
  }
}

TEST(FullTarget, ContactPointOfALongWallIsWhereTheBeamIsBrokenAndNotWhereItIsDeepest) {
  MadeScene scene = one_ball_scene();
  // A wall along the beam that comes nearer to it step by step: deepest at its far end.
  Mesh mesh = wall({2500, 2.9}, {500, -40}, -100, 3000, 0.002);
  add_body(scene, "slanting wall", std::move(mesh));
  const auto outcome = look_level(scene, 3000);
  ASSERT_NE(cause(outcome), nullptr);
  const Cause& why = *cause(outcome);
  EXPECT_NEAR(why.at->x(), 3000 - *why.distance, 4) << "beside the axis, within a beam radius";
}

TEST(FullTarget, WireInTheRimOfTheBeamBlocksThoughTheAxisIsFree) {
  MadeScene scene = one_ball_scene();
  // 0.2 mm across; its near side 3.1 beside the axis, where the beam's radius is 3.2.
  const BodyId wire = add_body(scene, "wire", box({999.9, 3.1, -500}, {1000.1, 3.3, 500}));
  const auto outcome = look_level(scene, 3000);
  ASSERT_NE(cause(outcome), nullptr);
  EXPECT_EQ(cause(outcome)->rule, Rule::beam);
  EXPECT_EQ(cause(outcome)->body, wire);
  const double slope = 0.1e-3;
  const double expected = 3.1 * std::sqrt(1 - slope * slope) - beam_radius(2000.1);
  EXPECT_NEAR(*cause(outcome)->margin, expected, 1e-9);
  EXPECT_NEAR(expected, -0.10001, 1e-6);
  // A beam of nothing but its axis passes.
  scene.instrument.beam_diameter = 0;
  scene.instrument.beam_growth_rad = 0;
  const auto thin = look_level(scene, 3000);
  ASSERT_NE(reached(thin), nullptr);
  EXPECT_NEAR(reached(thin)->margin, 3.1, 1e-9);
}

TEST(FullTarget, GrowingBeamPassesAnEdgeNearTheInstrumentAndNotFarFromIt) {
  // The edge stands 3.15 beside the axis; the radius there is 3.05 after 500, 3.25 after 2500.
  for (const auto& [x, is_clear] : {std::pair{2500.0, true}, {500.0, false}}) {
    MadeScene scene = one_ball_scene();
    add_body(scene, "edge", box({x - 1, 3.15, -500}, {x + 1, 10, 500}));
    EXPECT_EQ(reached(look_level(scene, 3000)) != nullptr, is_clear) << "edge at x = " << x;
  }
}

TEST(FullTarget, MinMarginAsksForThatMuchMore) {
  MadeScene scene = one_ball_scene();
  add_body(scene, "edge", box({999, 5, -500}, {1001, 10, 500}));
  const auto open = look_level(scene, 3000);
  ASSERT_NE(reached(open), nullptr);
  const double margin = reached(open)->margin;
  EXPECT_NEAR(margin, 5 - beam_radius(2001), 1e-6);
  scene.rules.min_margin = margin - 1e-6;
  EXPECT_NE(reached(look_level(scene, 3000)), nullptr);
  scene.rules.min_margin = margin + 1e-6;
  const auto outcome = look_level(scene, 3000);
  ASSERT_NE(cause(outcome), nullptr);
  EXPECT_EQ(cause(outcome)->rule, Rule::beam);
  EXPECT_NEAR(*cause(outcome)->margin, margin, 1e-9);
}

TEST(FullTarget, TheBeamIsJudgedOnlyToWhereItEntersTheBall) {
  MadeScene scene = one_ball_scene();
  // Thin sheets across the beam's way through the ball's place: one in front of the ball, one in
  // it (that is the business of fit, switched off here).
  scene.rules.fit_tolerance = 100;
  MadeScene in_ball = scene;
  add_body(in_ball, "sheet", box({kR - 8, -50, -50}, {kR - 7, 50, 50}));
  EXPECT_NE(reached(look_level(in_ball, 3000)), nullptr);
  add_body(scene, "sheet", box({kR + 7, -50, -50}, {kR + 8, 50, 50}));
  EXPECT_EQ(rule(look_level(scene, 3000)), Rule::beam);
}

TEST(FullTarget, RangeIsClosedAtBothEnds) {
  const MadeScene scene = one_ball_scene();
  EXPECT_NE(reached(look_level(scene, 400)), nullptr);
  EXPECT_NE(reached(look_level(scene, 40000)), nullptr);
  for (const double distance : {399.999, 40000.001}) {
    const auto outcome = look_level(scene, distance);
    EXPECT_EQ(rule(outcome), Rule::out_of_range) << distance;
    EXPECT_NEAR(*cause(outcome)->distance, distance, 1e-9);
    EXPECT_FALSE(cause(outcome)->body);
    EXPECT_FALSE(cause(outcome)->margin);
  }
}

TEST(FullTarget, ElevationIsThatOfTheBallSeenFromTheInstrumentAndClosed) {
  MadeScene scene = one_ball_scene();
  const Vec3 low_station(1000, 0, kR - 800);  // sees the ball above it
  const double up_rad = std::atan2(800, 1000);
  const auto look_from_low = [&](double high_rad) {
    scene.instrument.elevation_rad = {-0.1, high_rad};
    return look_at_point(scene, 0, Vec3::Zero(), kUp, low_station);
  };
  EXPECT_NE(reached(look_from_low(up_rad + 1e-12)), nullptr);
  EXPECT_EQ(rule(look_from_low(up_rad - 1e-12)), Rule::elevation);
  const Vec3 high_station(1000, 0, kR + 800);
  scene.instrument.elevation_rad = {-up_rad - 1e-12, 0.1};
  EXPECT_NE(reached(look_at_point(scene, 0, Vec3::Zero(), kUp, high_station)), nullptr);
  scene.instrument.elevation_rad = {-up_rad + 1e-12, 0.1};
  EXPECT_EQ(rule(look_at_point(scene, 0, Vec3::Zero(), kUp, high_station)), Rule::elevation);
}

TEST(FullTarget, ContactMayLieInsideTheApertureNeverBeyondWhatRollingCures) {
  // aperture 42 - acceptance 30: the beam may come no nearer than 12 degrees to the contact.
  MadeScene scene = one_ball_scene();
  scene.instrument.elevation_rad = {-1.6, 1.6};
  for (const auto& [off_deg, is_accepted] :
       {std::pair{12.0001, true}, {11.9999, false}, {0.0, false}, {90.0, true}, {180.0, true}}) {
    const double off = off_deg * kDeg;
    const Vec3 u(std::sin(off), 0, -std::cos(off));
    const Vec3 station = kR * kUp + 2000 * u;
    const auto outcome = look_at_point(scene, 0, Vec3::Zero(), kUp, station);
    EXPECT_EQ(reached(outcome) != nullptr, is_accepted) << off_deg << " degrees off the contact";
    if (!is_accepted) {
      EXPECT_EQ(rule(outcome), Rule::acceptance);
    }
  }
}

TEST(FullTarget, AWideAcceptanceAsksNothing) {
  MadeScene scene = one_ball_scene();
  scene.instrument.elevation_rad = {-1.6, 1.6};
  scene.full_targets[0].acceptance_rad = scene.full_targets[0].aperture_rad;
  EXPECT_NE(reached(look_at_point(scene, 0, Vec3::Zero(), kUp, {0, 0, -2000})), nullptr);
}

TEST(FullTarget, ANestsSeatCountsWithTheAperture) {
  // aperture 42 + seat 45 - acceptance 30 = 57 degrees.
  MadeScene scene = one_ball_scene();
  scene.instrument.elevation_rad = {-1.6, 1.6};
  const Place nest{Vec3(10, 20, 30), Vec3(1, 0, 0), 45 * kDeg, true};
  for (const auto& [off_deg, is_accepted] : {std::pair{57.0001, true}, {56.9999, false}}) {
    const double off = off_deg * kDeg;
    const Vec3 u(-std::cos(off), std::sin(off), 0);
    const auto outcome = look_at(scene, 0, nest, nest.optical_centre + 2000 * u);
    EXPECT_EQ(reached(outcome) != nullptr, is_accepted) << off_deg;
    if (!is_accepted) {
      EXPECT_EQ(rule(outcome), Rule::acceptance);
    }
  }
}

TEST(FullTarget, FitAllowsTheToleranceAndNoMore) {
  for (const auto& [overlap, fits] : {std::pair{0.19, true}, {0.21, false}, {-5.0, true}}) {
    MadeScene scene = one_ball_scene();
    add_body(scene, "floor", box({-500, -500, -100}, {500, 500, 0}), BodyRole::part);
    const double y = kR - overlap;
    const BodyId side = add_body(scene, "side wall", box({-500, y, -100}, {500, y + 50, 200}));
    const auto outcome = look_level(scene, 3000);
    EXPECT_EQ(reached(outcome) != nullptr, fits) << "overlap " << overlap;
    if (fits) continue;
    EXPECT_EQ(rule(outcome), Rule::no_fit);
    EXPECT_EQ(cause(outcome)->body, side);
    EXPECT_NEAR(*cause(outcome)->margin, -0.21, 1e-9);
    EXPECT_LT((*cause(outcome)->at - Vec3(0, y, kR)).norm(), 1e-6);
    // Along the beam, not to the contact: the wall's nearest point is beside the ball's centre.
    EXPECT_NEAR(*cause(outcome)->distance, 3000, 1e-6);
  }
}

TEST(FullTarget, ABallRestsOnAFaceAlsoWhereNoToleranceIsGiven) {
  // Its centre is off the face by R up to rounding, wherever the face lies.
  Draw draw(7);
  for (int i = 0; i < 200; ++i) {
    MadeScene scene = one_ball_scene();
    scene.rules.fit_tolerance = 0;
    add_body(scene, "block", box({-300, -200, -100}, {300, 200, 0}), BodyRole::part);
    const Pose pose = Eigen::Translation3d(draw.in_box(Vec3::Constant(-9e3), Vec3::Constant(9e3))) *
                      Eigen::AngleAxisd(draw.between(0, 6), draw.direction());
    scene.reshape(BodyId(std::size_t{0}), moved(*scene.meshes[0], pose));
    const Vec3 point = pose * Vec3(draw.between(-299, 299), draw.between(-199, 199), 0);
    const Cell cell = cell_of(scene);
    const Vec3 normal = pose.linear() * kUp;
    EXPECT_FALSE(fit_fails(cell, point + kR * normal, kR)) << "seed 7, case " << i;
    EXPECT_TRUE(fit_fails(cell, point + (kR - 1e-6) * normal, kR)) << "seed 7, case " << i;
  }
}

TEST(FullTarget, NoFitIsAskedOfANest) {
  MadeScene scene = one_ball_scene();
  add_body(scene, "seat", box({-10, -10, -20}, {10, 10, -kR + 3}));
  const Place nest{Vec3::Zero(), kUp, 45 * kDeg, true};
  EXPECT_NE(reached(look_at(scene, 0, nest, {3000, 0, 0})), nullptr);
  Place touch = nest;
  touch.is_nest = false;
  EXPECT_EQ(rule(look_at(scene, 0, touch, {3000, 0, 0})), Rule::no_fit);
}

TEST(FullTarget, AStationInsideTheBallIsOutOfRange) {
  MadeScene scene = one_ball_scene();
  scene.instrument.range = {0, 1000};
  EXPECT_EQ(rule(look_level(scene, kR / 2)), Rule::out_of_range);
  EXPECT_EQ(rule(look_level(scene, 0)), Rule::out_of_range);
}

}  // namespace
}  // namespace standpoint::test
