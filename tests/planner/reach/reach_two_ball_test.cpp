// A two-ball stylus at one place: contract section 3, "two-ball". Expected values are first
// principles.

#include <gtest/gtest.h>

#include <cmath>

#include "geometry/vec.h"
#include "reach_probe.h"

namespace standpoint::test {
namespace {

/// The stylus of two_ball_stylus(): balls of 12.7 mm at 150 and 350, acceptance 30 degrees. Its
/// tip's centre is put at the origin, in free space unless a test says otherwise.
const Place kFree{Vec3::Zero(), Vec3::UnitZ(), 0, false};
const Vec3 kStation(3000, 0, 0);

MadeScene one_rod_scene() {
  MadeScene scene = bare_scene();
  scene.offset_styli.emplace_back(two_ball_stylus());
  return scene;
}

TwoBallStylus& stylus(MadeScene& scene) {
  return std::get<TwoBallStylus>(scene.offset_styli.at(0));
}

void expect_keeps_rules(const MadeScene& scene, const Reached& how, const Vec3& station) {
  const auto& rod = std::get<TwoBallStylus>(scene.offset_styli.at(0));
  const Vec3 s = how.shank_direction.value();
  EXPECT_NEAR(s.norm(), 1, 1e-12);
  ASSERT_EQ(how.beam_ends.size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) {
    const Vec3 ball = rod.ball_distances[i] * s;
    const Vec3 v = station - ball;
    EXPECT_LE(std::abs(angle_between(s, v) - 90 * kDeg), rod.acceptance_rad + 1e-12);
    EXPECT_LT((how.beam_ends[i] - (ball + rod.ball_radius * v.normalized())).norm(), 1e-9);
  }
}

TEST(TwoBall, IsHeldSquareToTheBeamWithinItsAcceptance) {
  // Seen from 3000 the balls' lines of sight lean 2.9 and 6.7 degrees against each other's: with
  // less than 2 + 1 degrees no disc of 2 degrees is left for both.
  for (const double acceptance_deg : {4.0, 10.0, 30.0, 60.0}) {
    MadeScene scene = one_rod_scene();
    stylus(scene).acceptance_rad = acceptance_deg * kDeg;
    const auto outcome = look_at(scene, 0, kFree, kStation);
    ASSERT_NE(reached(outcome), nullptr) << acceptance_deg;
    expect_keeps_rules(scene, *reached(outcome), kStation);
  }
}

TEST(TwoBall, FartherBallHiddenBlocks) {
  // A window half-way to the station, 200 x 200: seen through it, 400 x 400 about the tip. The
  // farther ball is at least 350 cos 30 = 303 aside.
  MadeScene scene = one_rod_scene();
  const BodyId hoarding = add_body(
      scene, "hoarding", window_wall(1500, 10, {-900, -900}, {900, 900}, {-100, -100}, {100, 100}));
  const auto outcome = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(cause(outcome), nullptr);
  EXPECT_EQ(cause(outcome)->rule, Rule::beam);
  EXPECT_EQ(cause(outcome)->body, hoarding);
  EXPECT_NEAR(*cause(outcome)->distance, 1495, 60) << "the face of the hoarding, slanted";
  // A shorter rod is seen whole.
  stylus(scene).ball_distances = {60, 170};
  const auto short_rod = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(reached(short_rod), nullptr);
  expect_keeps_rules(scene, *reached(short_rod), kStation);
}

TEST(TwoBall, NearerBallHiddenBlocks) {
  // A sign in the middle hides 200 about the tip: the nearer ball is never farther than 150 aside,
  // the farther one never nearer than 303.
  MadeScene scene = one_rod_scene();
  const BodyId sign = add_body(scene, "sign", box({1495, -100, -100}, {1505, 100, 100}));
  const auto outcome = look_at(scene, 0, kFree, kStation);
  ASSERT_NE(cause(outcome), nullptr);
  EXPECT_EQ(cause(outcome)->rule, Rule::beam);
  EXPECT_EQ(cause(outcome)->body, sign);
  stylus(scene).ball_distances = {300, 350};
  EXPECT_NE(reached(look_at(scene, 0, kFree, kStation)), nullptr);
}

TEST(TwoBall, MarginIsTheSmallerOfBothBeams) {
  MadeScene scene = one_rod_scene();
  scene.instrument.beam_growth_rad = 0;
  // A sheet in the plane of beam and tip: what margin there is comes from standing off it.
  add_body(scene, "sheet", box({-2000, -2000, -1.01}, {2900, 2000, -1}));
  const auto outcome = look_at(scene, 0, {Vec3(0, 0, 5), Vec3::UnitZ(), 0, false}, kStation);
  ASSERT_NE(reached(outcome), nullptr);
  const Reached& how = *reached(outcome);
  const Cell cell = cell_of(scene);
  double least = 1e9;
  for (const Vec3& end : how.beam_ends) {
    least = std::min(least, margin_of(cell, {kStation, end, 3, 3}));
  }
  EXPECT_EQ(how.margin, least);
  EXPECT_GT(how.margin, -1 + 0.5) << "it lifts both balls off the sheet";
}

/// A tube along +x about the tip, open at x = 200: it lets the rod out within some 5 degrees.
MadeScene rod_in_a_tube() {
  MadeScene scene = one_rod_scene();
  Mesh tube = drilled({Vec3::Zero(), 60, 260, 22, 240, 32});
  const Pose to_x(Eigen::AngleAxisd(90 * kDeg, Vec3::UnitY()));
  tube = moved(tube, Eigen::Translation3d(200, 0, 0) * to_x);
  add_body(scene, "tube", std::move(tube));
  return scene;
}

TEST(TwoBall, NoClearLineToTheTipIsAsked) {
  // From the side the tip is hidden deep in the tube; the balls stand out of it.
  MadeScene scene = rod_in_a_tube();
  stylus(scene).ball_distances = {260, 460};
  const Vec3 beside(360, 3000, 0);
  const auto outcome = look_at(scene, 0, kFree, beside);
  ASSERT_NE(reached(outcome), nullptr);
  expect_keeps_rules(scene, *reached(outcome), beside);
  // A mirror stylus would have to stand through the tube's wall.
  scene.offset_styli.emplace_back(mirror_stylus());
  EXPECT_EQ(rule(look_at(scene, 1, kFree, beside)), Rule::shank);
  // The nearer ball still in the tube: hidden.
  stylus(scene).ball_distances = {150, 460};
  const auto sunk = look_at(scene, 0, kFree, beside);
  EXPECT_EQ(rule(sunk), Rule::beam);
  EXPECT_EQ(cause(sunk)->body, BodyId(0));
}

TEST(TwoBall, ARodThatPointsAtTheInstrumentShowsNothing) {
  // From along the tube the rod points at the instrument: 90 degrees off square, less 6 at most.
  MadeScene scene = rod_in_a_tube();
  stylus(scene).ball_distances = {260, 460};
  const auto outcome = look_at(scene, 0, kFree, {4000, 0, 0});
  ASSERT_NE(cause(outcome), nullptr);
  EXPECT_TRUE(rule(outcome) == Rule::shank || rule(outcome) == Rule::head ||
              rule(outcome) == Rule::acceptance);
  stylus(scene).acceptance_rad = 90 * kDeg;
  EXPECT_NE(reached(look_at(scene, 0, kFree, {4000, 0, 0})), nullptr);
}

/// A cage of 200 about the tip with a square window of half-width h in its +y side: the only way
/// out for a rod that is 350 long (the corners are 346 away).
MadeScene caged_rod(double h) {
  MadeScene scene = one_rod_scene();
  stylus(scene).acceptance_rad = 90 * kDeg;
  Mesh cage;
  append(cage, box({-200, -205, -200}, {200, -200, 200}));
  for (const double side : {-1.0, 1.0}) {
    append(cage, box({side * 202.5 - 2.5, -205, -205}, {side * 202.5 + 2.5, 205, 205}));
    append(cage, box({-200, -205, side * 202.5 - 2.5}, {200, 205, side * 202.5 + 2.5}));
  }
  const Mesh front = window_wall(202.5, 5, {-200, -200}, {200, 200}, {-h, -h}, {h, h});
  append(cage, moved(front, Pose(Eigen::AngleAxisd(90 * kDeg, Vec3::UnitZ()))));
  add_body(scene, "cage", std::move(cage));
  return scene;
}

TEST(TwoBall, RodIsFoundThroughAHoleTwoDegreesWide) {
  // Rod radius 4 less tolerance 0.2, at 205 from the tip: h - 3.8 >= 205 tan(1 degree) = 3.6.
  const Vec3 ahead(100, 3000, 0);
  const auto outcome = look_at(caged_rod(8), 0, kFree, ahead);
  ASSERT_NE(reached(outcome), nullptr);
  const Vec3 s = *reached(outcome)->shank_direction;
  EXPECT_LE(std::max(std::abs(s.x()), std::abs(s.z())) / s.y() * 200, 8 - 3.8);
  const auto closed = look_at(caged_rod(3.7), 0, kFree, ahead);
  ASSERT_NE(cause(closed), nullptr);
  EXPECT_TRUE(rule(closed) == Rule::shank || rule(closed) == Rule::head);
  EXPECT_EQ(cause(closed)->body, BodyId(0));
  EXPECT_LT(*cause(closed)->margin, -0.2);
}

TEST(TwoBall, BallsCutNoBody) {
  MadeScene scene = caged_rod(30);
  const Vec3 ahead(100, 3000, 0);
  EXPECT_NE(reached(look_at(scene, 0, kFree, ahead)), nullptr);
  stylus(scene).ball_radius = 160;  // the nearer ball cannot be inside the cage at all
  stylus(scene).ball_distances = {160, 700};
  const auto outcome = look_at(scene, 0, kFree, ahead);
  EXPECT_EQ(rule(outcome), Rule::head);
  EXPECT_EQ(cause(outcome)->body, BodyId(0));
}

TEST(TwoBall, ANestTakesTheTipWithoutAskingItToFit) {
  MadeScene scene = one_rod_scene();
  stylus(scene).shank.radius = 2;  // thinner than the tip: it begins clear of the seat
  add_body(scene, "seat", box({-10, -10, -20}, {10, 10, -1}));
  EXPECT_EQ(rule(look_at(scene, 0, kFree, kStation)), Rule::no_fit);
  Place nest = kFree;
  nest.is_nest = true;
  const auto outcome = look_at(scene, 0, nest, kStation);
  ASSERT_NE(reached(outcome), nullptr);
  EXPECT_GT(reached(outcome)->shank_direction->z(), 0);
}

TEST(TwoBall, RangeIsThatOfTheBalls) {
  MadeScene scene = one_rod_scene();
  // The tip itself is out of range, both balls are within when the rod leans to the station.
  const auto leaning = look_at(scene, 0, kFree, {40020, 0, 0});
  ASSERT_NE(reached(leaning), nullptr);
  EXPECT_GT(reached(leaning)->shank_direction->x(), 20.0 / 150);
  // 150 sin 30 = 75 is all that leaning gains.
  EXPECT_NE(cause(look_at(scene, 0, kFree, {40080, 0, 0})), nullptr);
  EXPECT_EQ(rule(look_at(scene, 0, kFree, {40151, 0, 0})), Rule::out_of_range);
}

TEST(TwoBall, ElevationIsThatOfTheBalls) {
  MadeScene scene = one_rod_scene();
  // From 1000 below, the tip is at 45 degrees; the limit asks the balls to be lower.
  scene.instrument.elevation_rad = {-60 * kDeg, 44 * kDeg};
  const Vec3 station(1000, 0, -1000);
  const auto outcome = look_at(scene, 0, kFree, station);
  ASSERT_NE(reached(outcome), nullptr);
  for (const double distance : {150.0, 350.0}) {
    const Vec3 d = distance * *reached(outcome)->shank_direction - station;
    EXPECT_LE(std::atan2(d.z(), std::hypot(d.x(), d.y())), 44 * kDeg + 1e-12);
  }
  scene.instrument.elevation_rad = {-60 * kDeg, 30 * kDeg};
  EXPECT_NE(cause(look_at(scene, 0, kFree, station)), nullptr);
}

}  // namespace
}  // namespace standpoint::test
