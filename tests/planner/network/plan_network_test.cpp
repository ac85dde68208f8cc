#include "planner/network/plan_network.h"

#include <gtest/gtest.h>

#include <cmath>

#include "dense_oracle.h"
#include "planner/network/budget.h"

namespace standpoint {
namespace {

using namespace testing;

// A plan put together by hand: two stations, five nests, a pad taken by a ball and a hole taken by
// a mirror's tip on its rim.
struct Job {
  Scene scene;
  Plan plan;

  Job() {
    scene.instrument.error = example_error();
    scene.full_targets = {{"ball", 19.05, .5, .7}};
    MirrorStylus mirror;
    mirror.name = "mirror";
    mirror.shank.tip_radius = 3;
    mirror.error = .01;
    scene.offset_styli = {mirror};
    scene.features.resize(2);
    scene.features[0].name = "pad";
    scene.features[0].shape = PlaneFeature{{}, {0, 0, 1}};
    scene.features[1].name = "hole";
    scene.features[1].shape = HoleFeature{{500, 100, 300}, {0, 0, 1}, 2.5, 10};
    const std::vector<Vec3> nests = {{-1500, -900, 200},
                                     {1600, -800, 100},
                                     {1500, 1000, 900},
                                     {-1400, 900, 300},
                                     {0, 1200, 1500}};
    for (std::size_t n = 0; n < nests.size(); ++n) {
      Nest nest;
      nest.name = "N" + std::to_string(n + 1);
      nest.at = nests[n];
      scene.nests.push_back(nest);
    }
    add_station({-3000, -4000, 1400}, {0, 1, 2, 3});
    add_station({4000, -3500, 1500}, {0, 1, 2, 4});
    plan_feature(0, 0, TargetId(0), {{0, 0, 300}, {400, 300, 300}, {900, 500, 300}});
    plan_feature(1, 1, TargetId(1), {{500, 100, 300}});
  }

  void add_station(const Vec3& at, const std::vector<std::uint32_t>& sees) {
    PlannedStation station;
    station.at = at;
    for (std::uint32_t n = 0; n < scene.nests.size(); ++n) {
      NestMark mark;
      mark.nest = NestId(n);
      if (std::find(sees.begin(), sees.end(), n) != sees.end()) {
        mark.mark.verdict = Verdict::full_target;
        mark.mark.best = Reached{};
        mark.mark.best->target = TargetId(0);
      }
      station.sight.nests.push_back(mark);
    }
    plan.stations.push_back(station);
  }

  void plan_feature(std::uint32_t feature, std::uint32_t station, TargetId target,
                    const std::vector<Vec3>& touches) {
    FeatureMark mark;
    mark.feature = FeatureId(feature);
    mark.target = target;
    for (const Vec3& at : touches) {
      TouchMark touch;
      touch.at = at;
      touch.normal = Vec3(0, 0, 1);
      mark.touches.push_back(touch);
      Reached reached;
      reached.target = target;
      // By hand: the 38.1 mm ball on the pad, the 6 mm tip on the rim of the 5 mm hole.
      reached.optical_centre = at + Vec3(0, 0, target == TargetId(0) ? 19.05 : 1.6583124);
      mark.by_target.push_back(reached);
    }
    plan.stations[station].sight.features.push_back(mark);
    PlannedFeature planned;
    planned.feature = FeatureId(feature);
    planned.station = StationId(station);
    planned.target = target;
    plan.features.push_back(planned);
  }

  PlanUncertainty predict() {
    const PlanNetwork network = plan_network(scene, plan);
    const PlanUncertainty uncertainty = predict_uncertainty(scene, network);
    write_uncertainty(network, uncertainty, plan);
    return uncertainty;
  }
};

Mat3 carried(const Mat6& pose, const Vec3& r) {
  Eigen::Matrix<double, 3, 6> carry;
  for (int k = 0; k < 3; ++k) {
    carry.col(k) = Vec3::Unit(k);
    carry.col(3 + k) = Vec3::Unit(k).cross(r);
  }
  return carry * pose * carry.transpose();
}

TEST(PlanNetwork, EveryFigureIsThatOfSectionSix) {
  Job job;
  EXPECT_EQ(job.predict().figures, Figures::network);
  NetworkInput input;
  for (const PlannedStation& station : job.plan.stations) input.stations.push_back(station.at);
  for (const Nest& nest : job.scene.nests) input.nests.push_back(nest.at);
  for (const auto& [s, n] :
       {std::pair{0u, 0u}, {0u, 1u}, {0u, 2u}, {0u, 3u}, {1u, 0u}, {1u, 1u}, {1u, 2u}, {1u, 4u}})
    input.observations.push_back({s, n, Mat3::Identity()});
  const DenseAnswer expected = DenseOracle(input, example_error()).answer();
  for (int s = 0; s < 2; ++s)
    EXPECT_LT(
        relative_difference(in_mm(*job.plan.stations[s].pose_covariance), in_mm(expected.poses[s])),
        1e-6);

  const PlannedFeature& pad = job.plan.features[0];
  ASSERT_EQ(pad.touch_uncertainty.size(), 3u);
  double worst = 0;
  for (int i = 0; i < 3; ++i) {
    const Vec3 centre = job.plan.stations[0].sight.features[0].touches[i].at + Vec3(0, 0, 19.05);
    const Vec3& station = input.stations[0];
    const Mat3 sum = carried(expected.poses[0], centre - station) +
                     polar_covariance(example_error(), station, centre);
    EXPECT_LT(relative_difference(pad.touch_uncertainty[i]->covariance, sum), 1e-6);
    worst = std::max(worst, 2 * std::sqrt(Eigen::JacobiSVD<Mat3>(sum).singularValues()[0]));
  }
  EXPECT_NEAR(pad.uncertainty->expanded, worst, 1e-8);

  // The 6 mm tip on the 5 mm hole: its centre stands 1.6583 mm above the rim (first principles).
  const Vec3 tip(500, 100, 301.6583);
  const Mat3 hole = carried(expected.poses[1], tip - input.stations[1]) +
                    polar_covariance(example_error(), input.stations[1], tip) +
                    Mat3::Identity() * 1e-4;
  EXPECT_LT(relative_difference(job.plan.features[1].uncertainty->covariance, hole), 1e-6);
}

TEST(PlanNetwork, OneStationWithoutNestsHasTheObservationsOwn) {
  Job job;
  job.scene.nests.clear();
  job.plan.stations.pop_back();
  job.plan.features.pop_back();
  job.plan.stations[0].sight.nests.clear();
  EXPECT_EQ(job.predict().figures, Figures::own);
  EXPECT_FALSE(job.plan.stations[0].pose_covariance);
  EXPECT_LT(relative_difference(
                job.plan.features[0].touch_uncertainty[0]->covariance,
                polar_covariance(example_error(), job.plan.stations[0].at, {0, 0, 319.05})),
            1e-8);
}

TEST(PlanNetwork, SeveralStationsWithoutNestsHaveNoFigures) {
  Job job;
  job.predict();
  job.scene.nests.clear();
  for (PlannedStation& station : job.plan.stations) station.sight.nests.clear();
  EXPECT_EQ(job.predict().figures, Figures::untied);
  EXPECT_FALSE(job.plan.features[0].uncertainty);  // what was there before is gone
  EXPECT_TRUE(job.plan.features[0].touch_uncertainty.empty());
  EXPECT_FALSE(job.plan.stations[0].pose_covariance);
}

TEST(PlanNetwork, WhatCanMoveIsHandedOn) {
  Job job;
  job.plan.stations[1].sight.nests[2].mark.verdict = Verdict::blocked;
  const PlanUncertainty uncertainty = job.predict();
  EXPECT_EQ(uncertainty.figures, Figures::deficient);
  ASSERT_EQ(uncertainty.deficient.size(), 1u);
  EXPECT_EQ(uncertainty.deficient[0].tie, Tie::two_nests);
  EXPECT_FALSE(job.plan.features[0].uncertainty);
}

TEST(PlanNetwork, ADatumOfNamedNestsAndFeatures) {
  Job job;
  job.scene.datum = {"N1", "N2", "N3"};
  job.predict();
  const double by_nests = job.plan.features[0].uncertainty->expanded;
  job.scene.datum = {"pad"};
  const PlanNetwork network = plan_network(job.scene, job.plan);
  EXPECT_EQ(network.input.datum_touches.size(), 3u);
  EXPECT_TRUE(network.input.datum_nests.empty());
  job.predict();
  // The datum lies on the pad's own three touches: their distances alone are uncertain.
  EXPECT_LT(job.plan.features[0].uncertainty->expanded, by_nests);
  NetworkInput input = network.input;
  const DenseAnswer expected = DenseOracle(input, example_error()).answer();
  for (int i = 0; i < 3; ++i)
    EXPECT_LT(relative_difference(job.plan.features[0].touch_uncertainty[i]->covariance,
                                  expected.datum_touches[i]),
              1e-6);
  job.scene.datum = {"nothing that is observed"};
  EXPECT_EQ(job.predict().figures, Figures::no_datum);
  EXPECT_FALSE(job.plan.features[0].uncertainty);
}

TEST(PlanNetwork, TheRoomAddsToTheFigures) {
  Job job;
  job.predict();
  const Mat3 still = job.plan.features[0].touch_uncertainty[1]->covariance;
  job.scene.environment.part_temperature_error = 2;
  job.scene.environment.expansion = 11.5e-6;
  job.predict();
  Vec3 centre = Vec3::Zero();
  for (const Nest& nest : job.scene.nests) centre += nest.at / 5;
  const Vec3 arm = 2 * 11.5e-6 * (Vec3(400, 300, 319.05) - centre);
  EXPECT_LT(relative_difference(job.plan.features[0].touch_uncertainty[1]->covariance,
                                Mat3(still + arm * arm.transpose())),
            1e-9);
  job.scene.environment = Environment{};
  job.scene.environment.nest_repeatability = .02;
  job.predict();
  EXPECT_GT(job.plan.features[0].touch_uncertainty[1]->covariance.trace(), still.trace());
}

TEST(PlanNetwork, ANestTakenByStylusIsObservedWithTheStylusError) {
  Job job;
  job.plan.stations[0].sight.nests[1].mark.verdict = Verdict::offset_stylus;
  job.plan.stations[0].sight.nests[1].mark.best->target = TargetId(1);
  const PlanNetwork network = plan_network(job.scene, job.plan);
  const Mat3 expected =
      polar_covariance(example_error(), job.plan.stations[0].at, job.scene.nests[1].at) +
      Mat3::Identity() * 1e-4;
  EXPECT_LT(relative_difference(network.input.observations[1].covariance, expected), 1e-8);
}

/// Where nothing is reached a plan has no station, but nests and air all the same.
TEST(PlanNetwork, OfNoStationHasNothingToPredictWhateverTheEnvironment) {
  Scene scene;
  scene.instrument.error = {2, {0.02, 0}, {0.01, 0}};
  scene.environment.air_temperature_error = 1;
  scene.nests.push_back({"N1", {1000, 0, 0}, Vec3::UnitZ(), 0.7});
  const PlanUncertainty uncertainty = predict_uncertainty(scene, plan_network(scene, Plan{}));
  EXPECT_TRUE(uncertainty.touches.empty());
  ASSERT_TRUE(uncertainty.network);
  EXPECT_TRUE(uncertainty.network->pose_covariance.empty());
}

}  // namespace
}  // namespace standpoint
