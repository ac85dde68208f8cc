#include <gtest/gtest.h>

#include "dense_oracle.h"
#include "planner/network/adjustment.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

using namespace testing;

void expect_same(const NetworkInput& input, double tolerance) {
  const NetworkResult result = solve_network(input);
  ASSERT_TRUE(result.network);
  const DenseAnswer expected = DenseOracle(input, example_error()).answer();
  for (std::size_t s = 0; s < input.stations.size(); ++s)
    EXPECT_LT(
        relative_difference(in_mm(result.network->pose_covariance[s]), in_mm(expected.poses[s])),
        tolerance)
        << "station " << s;
  for (std::size_t n = 0; n < input.nests.size(); ++n)
    EXPECT_LT(relative_difference(result.network->nest_covariance[n], expected.nests[n]), tolerance)
        << "nest " << n;
  for (std::size_t t = 0; t < input.datum_touches.size(); ++t)
    EXPECT_LT(
        relative_difference(result.network->datum_touch_covariance[t], expected.datum_touches[t]),
        tolerance)
        << "touch " << t;
}

void add_touches(NetworkInput& input, std::uint64_t seed, std::size_t count) {
  test::Draw draw(seed);
  for (std::size_t i = 0; i < count; ++i) {
    const auto station = static_cast<std::uint32_t>(draw.below(input.stations.size()));
    const Vec3 place = draw.in_box({-2500, -1500, 200}, {2500, 1500, 1800});
    input.datum_touches.push_back(
        {station, place, polar_covariance(example_error(), input.stations[station], place)});
  }
}

TEST(DenseOracle, AgreesOverAllNests) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    expect_same(random_network(seed, 1 + seed % 5, 5 + seed), 1e-6);
  }
}

TEST(DenseOracle, AgreesOverNamedNests) {
  for (std::uint64_t seed = 21; seed <= 28; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    NetworkInput input = random_network(seed, 1 + seed % 4, 9);
    input.datum_nests = {7, 1, 2, 5};
    expect_same(input, 1e-6);
  }
}

TEST(DenseOracle, AgreesOverTouchesAndOverBoth) {
  for (std::uint64_t seed = 31; seed <= 38; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    NetworkInput input = random_network(seed, 2 + seed % 3, 8, 1);
    add_touches(input, seed, 5);
    expect_same(input, 1e-6);
    input.datum_nests = {0, 3};
    expect_same(input, 1e-6);
  }
}

// A station that sees nests far away in a small cluster, and others along a chain.
TEST(DenseOracle, AgreesWhereTheTiesAreWeak) {
  NetworkInput input;
  test::Draw draw(41);
  for (int i = 0; i < 6; ++i) {
    input.stations.push_back({5000.0 * i, 300.0 * (i % 2), 1500});
    for (int k = 0; k < 4; ++k)
      input.nests.push_back(
          draw.in_box({5000. * i + 2000, 1000, 0}, {5000. * i + 3000, 1500, 700}));
  }
  input.stations.push_back({2500, 30000, 2000});
  const auto observe = [&](std::uint32_t s, std::uint32_t n) {
    input.observations.push_back(
        {s, n, polar_covariance(example_error(), input.stations[s], input.nests[n])});
  };
  for (std::uint32_t s = 0; s < 6; ++s)
    for (std::uint32_t k = 0; k < 4; ++k) {
      observe(s, 4 * s + k);
      if (s > 0) observe(s, 4 * (s - 1) + k);
    }
  for (std::uint32_t k = 0; k < 4; ++k) observe(6, k);
  expect_same(input, 1e-5);
}

// What comes from each observation alone adds up to the whole, and so do single shifts: the gain
// matrix by `respond`, column by column, against the covariance.
TEST(Adjustment, TheGainOfEveryObservationMakesUpTheCovariance) {
  NetworkInput input = random_network(51, 3, 6);
  add_touches(input, 51, 3);
  input.datum_nests = {0, 1, 2};
  const AdjustmentResult result = adjust(input);
  ASSERT_TRUE(result.adjustment);
  const Network network = result.adjustment->covariances();
  const std::size_t count = input.observations.size() + input.datum_touches.size();
  std::vector<Mat3> own;
  for (const NestObservation& o : input.observations) own.push_back(o.covariance);
  for (const DatumTouch& t : input.datum_touches) own.push_back(t.covariance);

  std::vector<Mat6> poses(3, Mat6::Zero());
  std::vector<Mat3> nests(6, Mat3::Zero()), touches(3, Mat3::Zero());
  for (std::size_t o = 0; o < count; ++o) {
    Eigen::Matrix<double, 6, 3> pose_gain[3];
    Mat3 nest_gain[6], touch_gain[3];
    for (int k = 0; k < 3; ++k) {
      std::vector<Vec3> shifts(count, Vec3::Zero());
      shifts[o] = Vec3::Unit(k);
      const Response response = result.adjustment->respond(shifts);
      for (int s = 0; s < 3; ++s) pose_gain[s].col(k) = response.poses[s];
      for (int n = 0; n < 6; ++n) nest_gain[n].col(k) = response.nests[n];
      for (int t = 0; t < 3; ++t) touch_gain[t].col(k) = response.datum_touches[t];
    }
    for (int s = 0; s < 3; ++s) poses[s] += pose_gain[s] * own[o] * pose_gain[s].transpose();
    for (int n = 0; n < 6; ++n) nests[n] += nest_gain[n] * own[o] * nest_gain[n].transpose();
    for (int t = 0; t < 3; ++t) touches[t] += touch_gain[t] * own[o] * touch_gain[t].transpose();
  }
  const std::vector<Mat6> from_parts = result.adjustment->pose_covariance_from(own);
  for (int s = 0; s < 3; ++s) {
    EXPECT_LT(relative_difference(in_mm(poses[s]), in_mm(network.pose_covariance[s])), 1e-9);
    EXPECT_LT(relative_difference(in_mm(from_parts[s]), in_mm(network.pose_covariance[s])), 1e-9);
  }
  for (int n = 0; n < 6; ++n)
    EXPECT_LT(relative_difference(nests[n], network.nest_covariance[n]), 1e-9);
  for (int t = 0; t < 3; ++t)
    EXPECT_LT(relative_difference(touches[t], network.datum_touch_covariance[t]), 1e-9);
}

}  // namespace
}  // namespace standpoint
