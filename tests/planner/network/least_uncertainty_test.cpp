// The bound against whole networks: no plan that has a station knows its touches better than the
// bound says.

#include "planner/network/least_uncertainty.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "planner/model/touch.h"
#include "planner/network/budget.h"
#include "planner/network/plan_network.h"
#include "planner/network/touch_uncertainty.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// Nests all over a hall and features in its middle, without any body.
Scene drawn_scene(Draw& draw) {
  Scene scene = bare_scene();
  scene.full_targets = {ball_target()};
  scene.instrument.error = {2,
                            {draw.between(0.005, 0.03), draw.between(0, 2e-5)},
                            {draw.between(0.005, 0.03), draw.between(0, 2e-5)}};
  scene.environment.nest_repeatability = draw.chance(0.5) ? draw.between(0, 0.02) : 0;
  if (draw.chance(0.3)) scene.environment.air_temperature_error = 1;
  const std::size_t nests = 4 + draw.below(6);
  for (std::size_t n = 0; n < nests; ++n)
    scene.nests.push_back({"N" + std::to_string(n),
                           draw.in_box({-6000, -6000, 0}, {6000, 6000, 3000}), Vec3::UnitZ(), 0.7});
  for (int f = 0; f < 4; ++f) {
    const Vec3 at = draw.in_box({-1500, -1500, 200}, {1500, 1500, 1500});
    if (draw.chance(0.5)) {
      add_feature(scene, "point-" + std::to_string(f), PointFeature{at, draw.direction()});
    } else {
      add_feature(scene, "bore-" + std::to_string(f),
                  CylinderFeature{at, draw.direction(), draw.between(50, 200), 150, false});
    }
  }
  return scene;
}

/// A station that sees all nests and all features by their own normals.
PlannedStation seeing_all(const Scene& scene, const Vec3& at, std::size_t skipped_nest) {
  PlannedStation station;
  station.at = at;
  station.sight.at = at;
  for (std::size_t n = 0; n < scene.nests.size(); ++n) {
    NestMark mark{NestId(n), {}};
    if (n != skipped_nest) {
      mark.mark.verdict = Verdict::full_target;
      mark.mark.best = Reached{TargetId(0), 10, {}, {}, scene.nests[n].at};
    }
    station.sight.nests.push_back(mark);
  }
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    FeatureMark mark;
    mark.feature = FeatureId(f);
    mark.verdict = Verdict::full_target;
    mark.target = TargetId(0);
    const std::vector<TouchSet> sets =
        touch_sets(scene.features[f], touching_radius(scene, TargetId(0)), scene.rules);
    for (const Touch& touch : sets.front().touches) {
      TouchMark& one = mark.touches.emplace_back();
      one.at = touch.at;
      one.normal = touch.normal;
      one.optical_centre = touch.optical_centre;
      mark.by_target.emplace_back(Reached{TargetId(0), 10, {}, {}, touch.optical_centre});
    }
    station.sight.features.push_back(mark);
  }
  return station;
}

TEST(LeastUncertainty, IsBelowThatOfEveryNetwork) {
  double nearest = 0, farthest_of_own = 1;  // of bound / figure: the bound is not just zero
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    Scene scene = drawn_scene(draw);
    Plan plan;
    const std::size_t stations = 1 + draw.below(3);
    std::vector<std::size_t> skipped;
    for (std::size_t s = 0; s < stations; ++s) {
      skipped.push_back(draw.below(2 * scene.nests.size()));
      plan.stations.push_back(
          seeing_all(scene, draw.in_box({-5000, -5000, 1000}, {5000, 5000, 2000}), skipped.back()));
    }
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      PlannedFeature planned;
      planned.feature = FeatureId(f);
      planned.verdict = Verdict::full_target;
      planned.station = StationId(draw.below(stations));
      planned.target = TargetId(0);
      plan.features.push_back(planned);
    }
    const PlanNetwork network = plan_network(scene, plan);
    const PlanUncertainty uncertainty = predict_uncertainty(scene, network);
    write_uncertainty(network, uncertainty, plan);
    if (uncertainty.figures != Figures::network) continue;
    for (const PlannedFeature& planned : plan.features) {
      const std::size_t s = planned.station->index;
      std::vector<LeastUncertainty::SeenNest> seen;
      for (std::size_t n = 0; n < scene.nests.size(); ++n)
        if (n != skipped[s]) seen.push_back({NestId(n), Verdict::full_target});
      const Feature& feature = scene.features[planned.feature.index];
      const LeastUncertainty least(scene, plan.stations[s].at, seen);
      const double bound = least.of(feature, Verdict::full_target);
      const double of_own_pose =
          least.of(feature, Verdict::full_target, TargetId(0), *plan.stations[s].pose_covariance);
      ASSERT_TRUE(planned.uncertainty);
      EXPECT_LE(bound, of_own_pose * (1 + 1e-9));
      EXPECT_LE(of_own_pose, planned.uncertainty->expanded);
      nearest = std::max(nearest, bound / planned.uncertainty->expanded);
      const bool is_point = std::holds_alternative<PointFeature>(feature.shape);
      if (is_point && is_still(scene.environment))
        farthest_of_own = std::min(farthest_of_own, of_own_pose / planned.uncertainty->expanded);
    }
  }
  EXPECT_GT(nearest, 0.9);
  EXPECT_GT(farthest_of_own, 0.99999);  // of one touch, all is known
}

TEST(LeastUncertainty, OfOneStationWithoutNestsIsItsObservations) {
  Scene scene = bare_scene();
  scene.full_targets = {ball_target()};
  scene.instrument.error = {2, {0.02, 0}, {0.01, 0}};
  add_feature(scene, "pad", PointFeature{{0, 0, 0}, Vec3::UnitZ()});
  const LeastUncertainty least(scene, {3000, 0, 1500}, {});
  EXPECT_NEAR(least.of(scene.features[0], Verdict::full_target), 0.02, 1e-6);
}

TEST(LeastUncertainty, SaysNothingWhereTheDatumIsLaidOnFeatures) {
  Scene scene = bare_scene();
  scene.full_targets = {ball_target()};
  scene.instrument.error = {2, {0.02, 0}, {0.01, 0}};
  add_feature(scene, "pad", PointFeature{{0, 0, 0}, Vec3::UnitZ()});
  scene.datum = {"pad"};
  EXPECT_EQ(
      LeastUncertainty(scene, {3000, 0, 1500}, {}).of(scene.features[0], Verdict::full_target), 0);
}

/// Whether the beams to both balls come within the rod's acceptance.
bool is_accepted(const TwoBallStylus& rod, const Vec3& tip, const Vec3& direction, const Vec3& at) {
  return std::all_of(rod.ball_distances.begin(), rod.ball_distances.end(), [&](double d) {
    const Vec3 toward = at - (tip + d * direction);
    return std::abs(std::asin(direction.dot(toward.normalized()))) <= rod.acceptance_rad;
  });
}

TEST(LeastUncertainty, OfARodIsBelowEveryWayOfHoldingIt) {
  double nearest = 0, farthest_where_far = 1;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    Scene scene = bare_scene();
    scene.full_targets = {ball_target()};
    scene.instrument.error = {2,
                              {draw.between(0.005, 0.03), draw.between(0, 2e-5)},
                              {draw.between(0.005, 0.03), draw.between(0, 2e-5)}};
    TwoBallStylus rod = two_ball_stylus();
    rod.error = draw.chance(0.5) ? 0.01 : 0;
    rod.acceptance_rad = draw.between(5, 90) * kDeg;
    scene.offset_styli = {rod};
    add_feature(scene, "pad", PointFeature{{0, 0, 0}, Vec3::UnitZ()});
    const Vec3 at = draw.in_box({-3000, -3000, 500}, {3000, 3000, 2000});
    const Vec3 tip = rod.shank.tip_radius * Vec3::UnitZ();
    Vec3 direction = draw.direction();
    while (!is_accepted(rod, tip, direction, at)) direction = draw.direction();
    const Reading reading = two_ball_reading(tip, direction, rod.ball_distances, rod.error);
    const double figure =
        point_uncertainty(reading_covariance(scene.instrument.error, at, reading)).expanded;
    const double bound =
        LeastUncertainty(scene, at, {}).of(scene.features[0], Verdict::offset_stylus);
    EXPECT_LE(bound, figure);
    nearest = std::max(nearest, bound / figure);
    const InstrumentError& error = scene.instrument.error;
    const bool is_worse_across = error.transverse.fixed > error.radial.fixed &&
                                 error.transverse.per_mm > error.radial.per_mm;
    if (is_worse_across && at.norm() > 2000 && rod.acceptance_rad < 30 * kDeg)
      farthest_where_far = std::min(farthest_where_far, bound / figure);
  }
  EXPECT_GT(nearest, 0.98);
  EXPECT_GT(farthest_where_far, 0.8);
}

/// A mirror reads better than a rod: where it is known not to take a feature, the bound is higher.
TEST(LeastUncertainty, CountsNoTargetBeforeTheFirst) {
  Scene scene = bare_scene();
  scene.full_targets = {ball_target()};
  scene.instrument.error = {2, {0.02, 0}, {0.01, 0}};
  scene.offset_styli = {mirror_stylus(), two_ball_stylus()};
  add_feature(scene, "pad", PointFeature{{0, 0, 0}, Vec3::UnitZ()});
  const LeastUncertainty least(scene, {3000, 0, 1500}, {});
  const auto from = [&](std::size_t first) {
    return least.of(scene.features[0], Verdict::offset_stylus, TargetId(first));
  };
  EXPECT_NEAR(from(0), 0.02, 1e-6);
  EXPECT_EQ(from(1), from(0));
  EXPECT_GT(from(2), 1.5 * from(1));
}

}  // namespace
}  // namespace standpoint::test
