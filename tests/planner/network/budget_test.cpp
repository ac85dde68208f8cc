#include "planner/network/budget.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "networks.h"
#include "planner/network/air.h"

namespace standpoint {
namespace {

using namespace testing;

const BudgetLine* line_of(const Budget& budget, Source source) {
  const auto found = std::find_if(budget.lines.begin(), budget.lines.end(),
                                  [&](const BudgetLine& l) { return l.source == source; });
  return found == budget.lines.end() ? nullptr : &*found;
}

/// The budget of a touch read by an instrument without error, alone, in this environment.
Budget alone(const Environment& environment, const Vec3& station, const Vec3& place,
             const std::optional<Vec3>& direction = std::nullopt) {
  return touch_budget(environment_effects_alone(environment, Vec3::Zero()), InstrumentError{}, 0,
                      station, direct_reading(place), direction);
}

// Ciddor 1996 at 633 nm, 20 deg C, 101 325 Pa: 50 % 1.0002713727 (the paper's equations, computed
// elsewhere), 20 % 1.0002716285, 80 % 1.0002711183 (seen published).
TEST(Air, CiddorAt633Nanometres) {
  Air air;
  EXPECT_NEAR(refractive_index(air), 1.0002713727, 1e-10);
  air.humidity = .2;
  EXPECT_NEAR(refractive_index(air), 1.0002716285, 1e-10);
  air.humidity = .8;
  EXPECT_NEAR(refractive_index(air), 1.0002711183, 1e-10);
}

// About 1e-6 for each of 1 deg C and 4 hPa.
TEST(Air, AboutAMillionthPerKelvinAndPerFourHectopascal) {
  const AirSensitivity slope = air_sensitivity(Air{});
  EXPECT_NEAR(slope.per_kelvin, -.9545e-6, .0005e-6);
  EXPECT_NEAR(slope.per_pascal * 400, 1.07e-6, .01e-6);
  EXPECT_NEAR(slope.per_humidity, (1.0002711183 - 1.0002716285) / .6, 1e-9);
}

// 0.5 L^2 g |dn/dT| at 1 K/m: 5 m 11.9 um, 10 m 47.7, 20 m 190.9 (computed elsewhere); to one unit
// of the last place.
TEST(Budget, BeamBendsInAGradient) {
  Environment environment;
  environment.gradient_error = 1e-3;
  for (const auto& [metres, bend] : {std::pair{5., .0119}, {10., .0477}, {20., .1909}}) {
    const Budget budget = alone(environment, {0, 0, 0}, {1000 * metres, 0, 0}, Vec3(0, 0, 1));
    EXPECT_NEAR(budget.combined, bend, 1e-4);
    // Nothing along the beam.
    EXPECT_EQ(alone(environment, {0, 0, 0}, {1000 * metres, 0, 0}, Vec3(1, 0, 0)).combined, 0);
  }
}

// Growth from 20 deg C (ISO 1): 10 m of aluminium, 23.1e-6 per K, by 1 K: 231 um.
TEST(Budget, AluminiumGrows) {
  Environment environment;
  environment.expansion = 23.1e-6;
  environment.part_temperature = 21;
  const Budget warm = alone(environment, {0, -3000, 0}, {10000, 0, 0});
  EXPECT_LT((warm.growth - Vec3(.231, 0, 0)).norm(), 1e-12);
  EXPECT_TRUE(warm.lines.empty());  // a known growth is corrected for; it is no uncertainty
  environment.part_temperature = 23;
  environment.part_temperature_error = 1;
  environment.expansion_error = 1e-6;
  const Budget budget = alone(environment, {0, -3000, 0}, {10000, 0, 0}, Vec3(1, 0, 0));
  EXPECT_NEAR(line_of(budget, Source::part_temperature)->effect, .231, 1e-12);
  EXPECT_NEAR(line_of(budget, Source::part_temperature)->sensitivity, .231, 1e-12);
  EXPECT_NEAR(line_of(budget, Source::expansion)->effect, .030, 1e-12);  // 10 m x 3 K x 1e-6
}

TEST(Budget, RangeScalesWithTheIndexOfAir) {
  Environment environment;
  environment.air_temperature_error = 1;
  environment.air_pressure_error = 400;
  environment.humidity_error = .1;
  const Budget budget = alone(environment, {0, 0, 0}, {0, 10000, 0}, Vec3(0, 1, 0));
  EXPECT_NEAR(line_of(budget, Source::air_temperature)->effect, .009545, 5e-6);
  EXPECT_NEAR(line_of(budget, Source::air_pressure)->effect, .0107, 1e-4);
  EXPECT_NEAR(line_of(budget, Source::humidity)->effect, 10000 * .1 * .85e-6, 1e-5);
  EXPECT_EQ(alone(environment, {0, 0, 0}, {0, 10000, 0}, Vec3(1, 0, 0)).combined, 0);
}

struct Job {
  NetworkInput input = random_network(3, 3, 8);
  Environment environment;
  InstrumentError error = example_error();

  [[nodiscard]] Adjustment solved() const {
    NetworkInput with = input;
    for (NestObservation& o : with.observations)
      o.covariance = with_repeatability(o.covariance, environment);
    return *adjust(with).adjustment;
  }
};

Environment restless() {
  Environment environment;
  environment.part_temperature = 23;
  environment.part_temperature_error = .5;
  environment.expansion = 11.5e-6;
  environment.expansion_error = 1e-6;
  environment.air_temperature_error = .5;
  environment.air_pressure_error = 100;
  environment.humidity_error = .1;
  environment.gradient_error = .3e-3;
  environment.nest_repeatability = .004;
  return environment;
}

TEST(Budget, LinesAddUpToTheWhole) {
  Job job;
  job.environment = restless();
  const Adjustment adjustment = job.solved();
  const EnvironmentEffects effects = environment_effects(adjustment, job.environment);
  const Vec3 tip(900, -700, 600);
  const Reading reading = two_ball_reading(tip, Vec3(0, 0, 1), {150, 350}, .01);
  const Budget budget = touch_budget(effects, job.error, 1, job.input.stations[1], reading);
  EXPECT_EQ(budget.lines.size(), 11u);
  Mat3 sum = Mat3::Zero();
  double shares = 0;
  for (const BudgetLine& line : budget.lines) {
    sum += line.covariance;
    shares += line.share;
    EXPECT_NEAR(line.effect, line.sensitivity * line.standard, 1e-12);
    EXPECT_EQ(line.evaluation,
              line.source == Source::nest_repeatability ? Evaluation::type_a : Evaluation::type_b);
  }
  EXPECT_NEAR(shares, 1, 1e-12);
  EXPECT_LT(relative_difference(sum, budget.covariance), 1e-12);
  EXPECT_NEAR(budget.expanded, point_uncertainty(budget.covariance).expanded, 1e-12);

  const Mat3 section6 =
      touch_covariance(adjustment.covariances().pose_covariance[1], job.input.stations[1], reading,
                       reading_covariance(job.error, job.input.stations[1], reading));
  const Mat3 environment = environment_covariance(effects, 1, job.input.stations[1], reading);
  EXPECT_LT(relative_difference(budget.covariance, Mat3(section6 + environment)), 1e-9);
}

TEST(Budget, ARoomThatDoesNothingChangesNoFigure) {
  Job job;
  EXPECT_TRUE(is_still(job.environment));
  EXPECT_FALSE(is_still(restless()));
  const Adjustment adjustment = job.solved();
  const EnvironmentEffects effects = environment_effects(adjustment, job.environment);
  const Reading reading = direct_reading({900, -700, 600});
  const Budget budget = touch_budget(effects, job.error, 2, job.input.stations[2], reading);
  EXPECT_EQ(budget.lines.size(), 3u);  // across, along, pose
  const Mat3 section6 =
      touch_covariance(solve_network(job.input).network->pose_covariance[2], job.input.stations[2],
                       reading, reading_covariance(job.error, job.input.stations[2], reading));
  EXPECT_LT(relative_difference(budget.covariance, section6), 1e-9);
  EXPECT_EQ(environment_covariance(effects, 2, job.input.stations[2], reading), Mat3::Zero());
}

// What is common to all sights goes through the adjustment: an index of air that is wrong scales
// the nests too, the datum holds them, and a touch is off by its distance from the nests, not from
// the station. Exact where every range is scaled alike: then all nests scale about their centroid.
TEST(Budget, AWrongIndexIsLargelyTakenUpByThePose) {
  Job job;
  job.input = random_network(4, 1, 8, 1);
  job.environment.air_pressure_error = 1000;
  const EnvironmentEffects effects = environment_effects(job.solved(), job.environment);
  const Vec3& station = job.input.stations[0];
  Vec3 centre = Vec3::Zero();
  for (const Vec3& nest : job.input.nests) centre += nest / 8;
  const double u = 1000 * air_sensitivity(Air{}).per_pascal;
  for (const Vec3& place : {centre, Vec3(centre + Vec3(500, 200, -100))}) {
    const Budget budget = touch_budget(effects, job.error, 0, station, direct_reading(place));
    const BudgetLine* line = line_of(budget, Source::air_pressure);
    const Vec3 arm = place - centre;
    EXPECT_LT((line->covariance - u * u * arm * arm.transpose()).norm(), 1e-12);
  }
}

// A gradient bends the sights of the nests too. One station's adjusted nests are its observations,
// so its pose is the unweighted rigid fit of the bent places onto the nominal ones: done here by
// Umeyama's closed form (as Eigen has it).
TEST(Budget, AGradientGoesThroughTheAdjustment) {
  Job job;
  job.input = random_network(12, 1, 8, 1);
  job.environment.gradient_error = 1e-3;
  const EnvironmentEffects effects = environment_effects(job.solved(), job.environment);
  const Vec3& station = job.input.stations[0];
  const Vec3 touch(-2000, 2500, 700);
  const double bend = std::abs(air_sensitivity(Air{}).per_kelvin);
  const auto bent = [&](const Vec3& place, const Vec3& gradient) {
    const Vec3 sight = place - station, beam = sight.normalized();
    const Vec3 across = gradient - beam * beam.dot(gradient);
    return Vec3(place + .5 * sight.squaredNorm() * bend * across);
  };
  Mat3 expected = Mat3::Zero();
  for (int axis = 0; axis < 3; ++axis) {
    const Vec3 gradient = 1e-3 * Vec3::Unit(axis);
    Eigen::Matrix3Xd from(3, 8), to(3, 8);
    for (int n = 0; n < 8; ++n) {
      to.col(n) = job.input.nests[n];
      from.col(n) = bent(job.input.nests[n], gradient);
    }
    const Eigen::Isometry3d fit(Eigen::umeyama(from, to, false));
    const Vec3 shift = fit * bent(touch, gradient) - touch;
    expected += shift * shift.transpose();
  }
  const Budget budget = touch_budget(effects, job.error, 0, station, direct_reading(touch));
  EXPECT_LT(relative_difference(line_of(budget, Source::bending)->covariance, expected), 1e-4);
}

// Repeatability of seating by itself: pose and touch as of an isotropic network.
TEST(Budget, RepeatabilityIsOneLineWithItsOwnSensitivity) {
  Job job;
  job.environment.nest_repeatability = .01;
  const Adjustment adjustment = job.solved();
  const EnvironmentEffects effects = environment_effects(adjustment, job.environment);
  const Network network = adjustment.covariances();
  for (std::size_t s = 0; s < 3; ++s)
    EXPECT_LT(
        relative_difference(in_mm(Mat6(effects.instrument_pose[s] + effects.repeatability_pose[s])),
                            in_mm(network.pose_covariance[s])),
        1e-9);
  Job still = job;
  still.environment.nest_repeatability = 0;
  const Reading reading = direct_reading({0, 0, 500});
  const Budget with = touch_budget(effects, job.error, 0, job.input.stations[0], reading);
  const Budget without = touch_budget(environment_effects(still.solved(), still.environment),
                                      job.error, 0, job.input.stations[0], reading);
  EXPECT_GT(with.combined, without.combined);
  EXPECT_GT(line_of(with, Source::nest_repeatability)->effect, 0);
  EXPECT_EQ(line_of(without, Source::nest_repeatability), nullptr);
}

TEST(Budget, AnInstrumentWithoutErrorHasNoLines) {
  const Budget budget = alone(Environment{}, {0, 0, 0}, {1000, 0, 0});
  EXPECT_TRUE(budget.lines.empty());
  EXPECT_EQ(budget.combined, 0);
}

}  // namespace
}  // namespace standpoint
