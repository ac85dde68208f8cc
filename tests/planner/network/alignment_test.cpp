// The part's own frame: against a 3-2-1 alignment solved by hand, Ceres, and simulated adjustments.

#include "planner/network/alignment.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <ceres/ceres.h>
#include <ceres/rotation.h>
#include <gtest/gtest.h>

#include "geometry/vec.h"
#include "networks.h"
#include "planner/network/adjustment.h"
#include "planner/network/touch_uncertainty.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

using namespace testing;

AlignmentTouch touch_at(const Vec3& place, const Vec3& normal, const Mat3& covariance,
                        std::uint32_t station = 0) {
  return {station, place, {normal}, covariance};
}

/// Three touches on a table, two on a front, one on a side: the classic way to hold a block.
NetworkInput three_two_one(double sigma) {
  const Mat3 same = sigma * sigma * Mat3::Identity();
  NetworkInput input;
  input.stations = {Vec3(-2500, 900, 1400)};
  input.alignment = {
      touch_at({0, 0, 0}, Vec3::UnitZ(), same),    touch_at({1000, 0, 0}, Vec3::UnitZ(), same),
      touch_at({0, 600, 0}, Vec3::UnitZ(), same),  touch_at({0, 0, 0}, Vec3::UnitY(), same),
      touch_at({1000, 0, 0}, Vec3::UnitY(), same), touch_at({0, 200, 0}, Vec3::UnitX(), same)};
  return input;
}

TEST(Alignment, ThreeTwoOneIsAsItIsSolvedByHand) {
  constexpr double kSigma = 0.02;
  const NetworkInput input = three_two_one(kSigma);
  const NetworkResult result = solve_network(input);
  ASSERT_TRUE(result.network);
  const auto variance = [&](const Vec3& place) {
    return Mat3(carry_pose(result.network->pose_covariance[0], input.stations[0], place) /
                (kSigma * kSigma));
  };
  for (const Vec3& p : {Vec3(0, 0, 0), Vec3(1000, 0, 0), Vec3(700, 350, 0), Vec3(2500, -900, 0)}) {
    // Height: linear between the three, their errors weighted with the place's share of each.
    const double a = p.x() / 1000, b = p.y() / 600;
    const double height = (1 - a - b) * (1 - a - b) + a * a + b * b;
    // Across: linear along the front. Along: the one stop, and the turn that the front leaves.
    const double across = (1 - a) * (1 - a) + a * a;
    const double turn = (p.y() - 200) / 1000;
    const double along = 1 + 2 * turn * turn;
    EXPECT_NEAR(variance(p)(2, 2), height, 1e-6 * height);
    EXPECT_NEAR(variance(p)(1, 1), across, 1e-6 * across);
    EXPECT_NEAR(variance(p)(0, 0), along, 1e-6 * along);
  }
}

TEST(Alignment, FormAddsToWhatEachTouchHolds) {
  NetworkInput form = three_two_one(0.02);
  form.form = 0.015;
  const NetworkResult with_form = solve_network(form);
  const NetworkResult larger = solve_network(three_two_one(0.025));  // 0.02^2 + 0.015^2
  ASSERT_TRUE(with_form.network && larger.network);
  EXPECT_LT(relative_difference(in_mm(with_form.network->pose_covariance[0]),
                                in_mm(larger.network->pose_covariance[0])),
            1e-9);
}

/// A random network with touches of several kinds, from several of its stations.
NetworkInput aligned_network(std::uint64_t seed, std::size_t stations, std::size_t nests) {
  NetworkInput input = random_network(seed, stations, nests);
  test::Draw draw(seed + 500);
  for (std::uint32_t i = 0; i < 9; ++i) {
    AlignmentTouch touch;
    touch.station = i % static_cast<std::uint32_t>(stations);
    touch.place = draw.in_box({-1500, -900, 100}, {1500, 900, 1300});
    const Vec3 normal = draw.direction();
    const Vec3 across = any_perpendicular(normal);
    touch.held = {normal};
    if (i % 3 == 1) touch.held = {across, normal.cross(across)};
    if (i % 3 == 2) touch.held = {Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
    touch.covariance =
        polar_covariance(example_error(), input.stations[touch.station], touch.place);
    input.alignment.push_back(touch);
  }
  input.form = 0.004;
  return input;
}

/// A touch of the alignment as an observation: off the nominal place, along what it holds.
struct HeldResidual {
  Vec3 station, local, place;
  Eigen::MatrixXd whiten;  ///< root of the inverse covariance, times the directions held

  template <class T>
  bool operator()(T const* const* parameters, T* residual) const {
    const T* pose = parameters[0];
    const T from[3] = {T(local[0]), T(local[1]), T(local[2])};
    T turned[3];
    ceres::AngleAxisRotatePoint(pose + 3, from, turned);
    for (Eigen::Index row = 0; row < whiten.rows(); ++row) {
      residual[row] = T(0);
      for (int k = 0; k < 3; ++k)
        residual[row] += whiten(row, k) * (turned[k] + station[k] + pose[k] - place[k]);
    }
    return true;
  }
};

/// A nest as an observation of its place in the station's frame.
struct SeenResidual {
  Vec3 station, place;
  Mat3 whiten;

  template <class T>
  bool operator()(const T* pose, const T* nest, T* residual) const {
    const T away[3] = {nest[0] - station[0] - pose[0], nest[1] - station[1] - pose[1],
                       nest[2] - station[2] - pose[2]};
    const T back[3] = {-pose[3], -pose[4], -pose[5]};
    T local[3];
    ceres::AngleAxisRotatePoint(back, away, local);
    for (int row = 0; row < 3; ++row) {
      residual[row] = T(0);
      for (int k = 0; k < 3; ++k)
        residual[row] += whiten(row, k) * (local[k] - (place[k] - station[k]));
    }
    return true;
  }
};

Eigen::MatrixXd root_of_inverse(const Eigen::MatrixXd& covariance) {
  return Eigen::LLT<Eigen::MatrixXd>(covariance.inverse()).matrixU();
}

TEST(Alignment, CeresFindsTheSameCovariances) {
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const NetworkInput input = aligned_network(seed, 1 + seed % 3, 4 + seed);
    const NetworkResult ours = solve_network(input);
    ASSERT_TRUE(ours.network);

    std::vector<std::array<double, 6>> poses(input.stations.size());
    std::vector<Vec3> nests = input.nests;
    ceres::Problem problem;
    for (const NestObservation& o : input.observations)
      problem.AddResidualBlock(
          new ceres::AutoDiffCostFunction<SeenResidual, 3, 6, 3>(new SeenResidual{
              input.stations[o.station], input.nests[o.nest], root_of_inverse(o.covariance)}),
          nullptr, poses[o.station].data(), nests[o.nest].data());
    for (const AlignmentTouch& touch : input.alignment) {
      Eigen::MatrixXd held(static_cast<Eigen::Index>(touch.held.size()), 3);
      for (Eigen::Index row = 0; row < held.rows(); ++row)
        held.row(row) = touch.held[static_cast<std::size_t>(row)].transpose();
      const Eigen::MatrixXd spread =
          held * touch.covariance * held.transpose() +
          input.form * input.form * Eigen::MatrixXd::Identity(held.rows(), held.rows());
      const Vec3& station = input.stations[touch.station];
      auto* cost = new ceres::DynamicAutoDiffCostFunction<HeldResidual>(new HeldResidual{
          station, touch.place - station, touch.place, root_of_inverse(spread) * held});
      cost->AddParameterBlock(6);
      cost->SetNumResiduals(static_cast<int>(held.rows()));
      problem.AddResidualBlock(cost, nullptr, poses[touch.station].data());
    }
    std::vector<const double*> blocks;
    for (const auto& pose : poses) blocks.push_back(pose.data());
    for (const NestObservation& o : input.observations)
      if (std::find(blocks.begin(), blocks.end(), nests[o.nest].data()) == blocks.end())
        blocks.push_back(nests[o.nest].data());
    ceres::Covariance::Options options;
    options.algorithm_type = ceres::DENSE_SVD;
    ceres::Covariance solver(options);
    ASSERT_TRUE(solver.Compute(blocks, &problem));
    for (std::size_t s = 0; s < poses.size(); ++s) {
      Eigen::Matrix<double, 6, 6, Eigen::RowMajor> pose;
      solver.GetCovarianceBlock(poses[s].data(), poses[s].data(), pose.data());
      EXPECT_LT(relative_difference(in_mm(ours.network->pose_covariance[s]), in_mm(Mat6(pose))),
                1e-6);
    }
    for (const NestObservation& o : input.observations) {
      Eigen::Matrix<double, 3, 3, Eigen::RowMajor> place;
      solver.GetCovarianceBlock(nests[o.nest].data(), nests[o.nest].data(), place.data());
      EXPECT_LT(relative_difference(ours.network->nest_covariance[o.nest], Mat3(place)), 1e-6);
    }
  }
}

TEST(Alignment, SimulatedAlignmentsSpreadAsPredicted) {
  const NetworkInput input = aligned_network(31, 2, 6);
  const auto adjustment = adjust(input).adjustment;
  ASSERT_TRUE(adjustment);
  const Network predicted = adjustment->covariances();
  test::Draw draw(4711);
  const auto drawn = [&](const Mat3& covariance) {
    const Vec3 unit(draw.normal(), draw.normal(), draw.normal());
    return Vec3(covariance.llt().matrixL() * unit);
  };
  constexpr int kTrials = 2000;
  std::vector<double> sums(input.stations.size(), 0);
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<Vec3> shifts;
    for (const NestObservation& o : input.observations) shifts.push_back(drawn(o.covariance));
    for (const AlignmentTouch& touch : input.alignment)
      shifts.push_back(drawn(touch.covariance) +
                       input.form * Vec3(draw.normal(), draw.normal(), draw.normal()));
    const Response response = adjustment->respond(shifts);
    for (std::size_t s = 0; s < sums.size(); ++s)
      sums[s] +=
          response.poses[s].dot(predicted.pose_covariance[s].ldlt().solve(response.poses[s]));
  }
  // A sum of chi-squares of 6 degrees each: mean 6 x trials, variance 12 x trials. One seed.
  for (const double sum : sums) EXPECT_NEAR(sum, 6.0 * kTrials, 3.9 * std::sqrt(12.0 * kTrials));
}

TEST(Alignment, PartsOfThePoseAddUpToTheWhole) {
  const NetworkInput input = aligned_network(8, 3, 7);
  const auto adjustment = adjust(input).adjustment;
  ASSERT_TRUE(adjustment);
  std::vector<Mat3> nests, alignment;
  for (const NestObservation& o : input.observations) {
    nests.push_back(o.covariance);
    alignment.emplace_back(Mat3::Zero());
  }
  for (const AlignmentTouch& touch : input.alignment) {
    nests.emplace_back(Mat3::Zero());
    alignment.emplace_back(touch.covariance + input.form * input.form * Mat3::Identity());
  }
  const auto by_nests = adjustment->pose_covariance_from(nests);
  const auto by_alignment = adjustment->pose_covariance_from(alignment);
  const Network whole = adjustment->covariances();
  for (std::size_t s = 0; s < by_nests.size(); ++s)
    EXPECT_LT(
        relative_difference(in_mm(by_nests[s] + by_alignment[s]), in_mm(whole.pose_covariance[s])),
        1e-9);
}

TEST(Alignment, MovingAndTurningTheWholeJobChangesNoFigure) {
  const NetworkInput input = aligned_network(12, 2, 6);
  const Mat3 rotation = turn({0.3, -0.7, 1.1});
  const Vec3 shift(40000, -9000, 1500);
  NetworkInput moved = input;
  for (Vec3& at : moved.stations) at = rotation * at + shift;
  for (Vec3& at : moved.nests) at = rotation * at + shift;
  for (NestObservation& o : moved.observations)
    o.covariance = rotation * o.covariance * rotation.transpose();
  for (AlignmentTouch& touch : moved.alignment) {
    touch.place = rotation * touch.place + shift;
    touch.covariance = rotation * touch.covariance * rotation.transpose();
    for (Vec3& held : touch.held) held = rotation * held;
  }
  const Network here = *solve_network(input).network, there = *solve_network(moved).network;
  for (std::size_t s = 0; s < input.stations.size(); ++s) {
    Mat6 both = Mat6::Zero();
    both.topLeftCorner<3, 3>() = both.bottomRightCorner<3, 3>() = rotation;
    EXPECT_LT(relative_difference(in_mm(there.pose_covariance[s]),
                                  in_mm(Mat6(both * here.pose_covariance[s] * both.transpose()))),
              1e-8);
  }
}

TEST(Alignment, NoNetworkWhereItLeavesThePartFree) {
  NetworkInput input = three_two_one(0.02);
  input.alignment.pop_back();
  const NetworkResult result = solve_network(input);
  EXPECT_FALSE(result.network);
  EXPECT_TRUE(result.deficient.empty());
  ASSERT_EQ(result.free.size(), 1u);
  EXPECT_FALSE(result.free[0].turns);
  EXPECT_LT((result.free[0].direction - Vec3::UnitX()).norm(), 1e-9);
}

TEST(Alignment, AStationThatIsNotTiedIsNamedBeforeThePart) {
  NetworkInput input = aligned_network(3, 2, 6);
  std::erase_if(input.observations, [](const NestObservation& o) { return o.station == 1; });
  for (AlignmentTouch& touch : input.alignment) touch.station = 0;
  const NetworkResult result = solve_network(input);
  EXPECT_FALSE(result.network);
  ASSERT_EQ(result.deficient.size(), 1u);
  EXPECT_EQ(result.deficient[0].station, 1u);
}

}  // namespace
}  // namespace standpoint
