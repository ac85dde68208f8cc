// How well an element is known that several stations share: against simulated adjustments.

#include "planner/network/element_uncertainty.h"

#include <cmath>

#include <gtest/gtest.h>
#include <Eigen/Dense>

#include "planner/network/plan_network.h"
#include "standpoint/plan.h"
#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

/// Two stations, tied by few nests far from the plane, which a ridge divides between them: their
/// poses are uncertain, and so are what they have in common.
test::MadeScene divided_plane() {
  test::MadeScene scene = test::bare_scene("divided");
  scene.full_targets = {test::ball_target()};
  test::add_body(scene, "ridge", test::box({-3000, -10, 0}, {3000, 10, 900}));
  PlaneFeature plane;
  plane.normal = Vec3::UnitZ();
  for (const double x : {-2500.0, -800.0, 800.0, 2500.0})
    for (const double y : {-300.0, 300.0}) plane.points.emplace_back(x, y, 0);
  test::add_feature(scene, "face", plane);
  for (const Vec3& at :
       {Vec3(-900, -200, 1600), Vec3(800, 100, 1900), Vec3(0, 700, 2400), Vec3(300, -800, 1700)})
    test::add_nest(scene, "N" + std::to_string(scene.nests.size()), at);
  scene.fixed_stations = {{"front", {-500, -4000, 1200}}, {"back", {900, 4500, 1300}}};
  return scene;
}

/// A draw from a normal distribution with this covariance.
Vec3 drawn(test::Draw& draw, const Mat3& covariance) {
  const Vec3 unit(draw.normal(), draw.normal(), draw.normal());
  return covariance.llt().matrixL() * unit;
}

/// The plane z = a + b x + c y through touches that were read so much too high, by plain sums; its
/// height at each of them.
Eigen::VectorXd fitted_heights(const std::vector<Vec3>& at, const Eigen::VectorXd& heights) {
  Eigen::MatrixXd rows(heights.size(), 3);
  for (Eigen::Index i = 0; i < rows.rows(); ++i)
    rows.row(i) << 1, at[static_cast<std::size_t>(i)].x() / 1000,
        at[static_cast<std::size_t>(i)].y() / 1000;
  return rows * (rows.transpose() * rows).ldlt().solve(rows.transpose() * heights);
}

TEST(SharedElement, ItsUncertaintyIsThatOfSimulatedAdjustments) {
  const test::MadeScene scene = divided_plane();
  const auto plan = make_plan(test::cell_of(scene));
  ASSERT_TRUE(plan);
  ASSERT_EQ(plan->features[0].stations.size(), 2u);
  const auto elements = shared_element_uncertainties(scene, *plan);
  ASSERT_EQ(elements.size(), 1u);

  const PlanNetwork network = plan_network(scene, *plan);
  const AdjustmentResult adjusted = adjust(network.input);
  ASSERT_TRUE(adjusted.adjustment);
  ASSERT_EQ(network.touches.size(), 8u);
  std::vector<Vec3> at;
  for (const std::uint32_t index : network.touch_index)
    at.push_back(plan->features[0].shared_mark->touches[index].at);
  constexpr int kTrials = 20000;
  test::Draw draw(19);
  Eigen::VectorXd squares = Eigen::VectorXd::Zero(8);
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<Vec3> shifts;
    for (const NestObservation& o : network.input.observations)
      shifts.push_back(drawn(draw, o.covariance));
    const Response response = adjusted.adjustment->respond(shifts);
    Eigen::VectorXd heights(8);
    for (std::size_t i = 0; i < 8; ++i) {
      const WatchedTouch& touch = network.touches[i];
      const Vec6& pose = response.poses[touch.station];
      const Vec3 lever = touch.reading.place - network.input.stations[touch.station];
      const Vec3 carried = pose.head<3>() + Vec3(pose.tail<3>()).cross(lever);
      heights[static_cast<Eigen::Index>(i)] = (carried + drawn(draw, touch.own)).z();
    }
    squares += fitted_heights(at, heights).cwiseAbs2();
  }
  const double simulated = 2 * std::sqrt(squares.maxCoeff() / kTrials);
  // A variance from n draws has a relative standard deviation of sqrt(2 / n), its root half of
  // that; 4 times that, and the greatest of eight.
  EXPECT_NEAR(elements[0].expanded / simulated, 1, 5 * std::sqrt(0.5 / kTrials));

  // Were the poses taken as independent, the figure would be another one: the test can tell.
  const std::vector<WatchedTouch>& touches = network.touches;
  Eigen::MatrixXd joint = joint_covariance(*adjusted.adjustment, touches);
  const Eigen::MatrixXd whole = joint;
  for (std::size_t i = 0; i < 8; ++i)
    for (std::size_t j = 0; j < 8; ++j)
      if (touches[i].station != touches[j].station)
        joint.block<3, 3>(static_cast<Eigen::Index>(3 * i), static_cast<Eigen::Index>(3 * j))
            .setZero();
  EXPECT_GT((whole - joint).norm(), 0.05 * whole.norm());
}

TEST(SharedElement, TheJointCovarianceHoldsThatOfEachTouch) {
  const test::MadeScene scene = divided_plane();
  const auto plan = make_plan(test::cell_of(scene));
  ASSERT_TRUE(plan);
  const PlanNetwork network = plan_network(scene, *plan);
  const AdjustmentResult adjusted = adjust(network.input);
  const Eigen::MatrixXd joint = joint_covariance(*adjusted.adjustment, network.touches);
  EXPECT_LT((joint - joint.transpose()).norm(), 1e-9 * joint.norm());
  for (std::size_t i = 0; i < network.touches.size(); ++i) {
    const auto& told = plan->features[0].touch_uncertainty[network.touch_index[i]];
    ASSERT_TRUE(told);
    const auto first = static_cast<Eigen::Index>(3 * i);
    const Mat3 block = joint.block<3, 3>(first, first);
    EXPECT_LT((block - told->covariance).norm(), 1e-9 * told->covariance.norm());
  }
}

}  // namespace
}  // namespace standpoint
