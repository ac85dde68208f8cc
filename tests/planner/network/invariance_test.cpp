#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "networks.h"
#include "planner/network/adjustment.h"
#include "planner/network/propagate.h"
#include "tests/draw.h"

// What must not matter, and what must matter by a known amount.

namespace standpoint {
namespace {

using namespace testing;

Network solved(const NetworkInput& input) {
  NetworkResult result = solve_network(input);
  EXPECT_TRUE(result.network.has_value());
  return result.network.value_or(Network{});
}

TEST(NetworkInvariance, ARigidMotionOfEverythingTurnsTheCovariances) {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const NetworkInput input = random_network(seed, 4, 10);
    test::Draw draw(seed + 100);
    const Mat3 r = turn(draw.in_box({-3, -3, -3}, {3, 3, 3}));
    const Vec3 t = draw.in_box({-9000, -9000, -9000}, {9000, 9000, 9000});
    NetworkInput moved = input;
    for (Vec3& s : moved.stations) s = r * s + t;
    for (Vec3& n : moved.nests) n = r * n + t;
    for (NestObservation& o : moved.observations) o.covariance = r * o.covariance * r.transpose();
    const Network before = solved(input), after = solved(moved);
    Mat6 both = Mat6::Zero();
    both.topLeftCorner<3, 3>() = both.bottomRightCorner<3, 3>() = r;
    for (std::size_t s = 0; s < 4; ++s)
      EXPECT_LT(
          relative_difference(in_mm(after.pose_covariance[s]),
                              in_mm(Mat6(both * before.pose_covariance[s] * both.transpose()))),
          1e-9);
    for (std::size_t n = 0; n < 10; ++n)
      EXPECT_LT(relative_difference(after.nest_covariance[n],
                                    r * before.nest_covariance[n] * r.transpose()),
                1e-9);
  }
}

TEST(NetworkInvariance, TheOrderOfStationsNestsAndObservationsIsNothing) {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const NetworkInput input = random_network(seed, 5, 9);
    test::Draw draw(seed + 200);
    std::vector<std::uint32_t> to_station(5), to_nest(9);
    std::iota(to_station.begin(), to_station.end(), 0);
    std::iota(to_nest.begin(), to_nest.end(), 0);
    draw.shuffle(to_station);
    draw.shuffle(to_nest);
    NetworkInput mixed = input;
    for (std::size_t s = 0; s < 5; ++s) mixed.stations[to_station[s]] = input.stations[s];
    for (std::size_t n = 0; n < 9; ++n) mixed.nests[to_nest[n]] = input.nests[n];
    for (NestObservation& o : mixed.observations)
      o = {to_station[o.station], to_nest[o.nest], o.covariance};
    draw.shuffle(mixed.observations);
    const Network before = solved(input), after = solved(mixed);
    for (std::size_t s = 0; s < 5; ++s)
      EXPECT_LT(relative_difference(in_mm(after.pose_covariance[to_station[s]]),
                                    in_mm(before.pose_covariance[s])),
                1e-10);
    for (std::size_t n = 0; n < 9; ++n)
      EXPECT_LT(relative_difference(after.nest_covariance[to_nest[n]], before.nest_covariance[n]),
                1e-10);
  }
}

TEST(NetworkInvariance, ErrorsTimesKGiveCovariancesTimesKSquared) {
  const NetworkInput input = random_network(7, 4, 8);
  const Network before = solved(input);
  for (const double k : {.01, 3., 1000.}) {
    NetworkInput scaled = input;
    for (NestObservation& o : scaled.observations) o.covariance *= k * k;
    const Network after = solved(scaled);
    for (std::size_t s = 0; s < 4; ++s)
      EXPECT_LT(relative_difference(in_mm(after.pose_covariance[s]),
                                    in_mm(Mat6(k * k * before.pose_covariance[s]))),
                1e-10);
    for (std::size_t n = 0; n < 8; ++n)
      EXPECT_LT(
          relative_difference(after.nest_covariance[n], Mat3(k * k * before.nest_covariance[n])),
          1e-10);
  }
}

TEST(NetworkInvariance, ANestThatNobodySeesChangesNothing) {
  const NetworkInput input = random_network(8, 3, 7);
  NetworkInput more = input;
  more.nests.push_back({90000, 0, 0});
  const Network before = solved(input), after = solved(more);
  EXPECT_EQ(after.nest_covariance.back(), Mat3::Zero());
  for (std::size_t s = 0; s < 3; ++s)
    EXPECT_EQ(after.pose_covariance[s], before.pose_covariance[s]);
}

// The datum, as contract section 6 words it: whatever the observations do, the shifts of the
// datum's nests sum to zero and so do their rotations about their centroid.
TEST(FreeNetwork, ShiftsAndRotationsOfTheDatumSumToZero) {
  for (const bool named : {false, true}) {
    NetworkInput input = random_network(9, 3, 8, 1);
    if (named) input.datum_nests = {1, 3, 4, 6};
    const AdjustmentResult result = adjust(input);
    ASSERT_TRUE(result.adjustment);
    test::Draw draw(9);
    std::vector<Vec3> shifts;
    for (std::size_t i = 0; i < input.observations.size(); ++i)
      shifts.push_back(draw.in_box({-1, -1, -1}, {1, 1, 1}));
    const Response response = result.adjustment->respond(shifts);
    std::vector<std::uint32_t> datum = input.datum_nests;
    if (!named) datum = {0, 1, 2, 3, 4, 5, 6, 7};
    Vec3 centre = Vec3::Zero(), sum = Vec3::Zero(), moment = Vec3::Zero();
    for (const std::uint32_t n : datum) centre += input.nests[n] / double(datum.size());
    EXPECT_LT((centre - result.adjustment->datum_centre()).norm(), 1e-9);
    for (const std::uint32_t n : datum) {
      sum += response.nests[n];
      moment += (input.nests[n] - centre).cross(response.nests[n]);
    }
    EXPECT_LT(sum.norm(), 1e-10);
    EXPECT_LT(moment.norm() / 3000, 1e-10);
    EXPECT_GT(response.nests[2].norm(), .01);
  }
}

// A rigid motion of all that one station observes is that station set up elsewhere: its pose
// answers for it, and nothing else moves. Of all stations at once: a shift of the datum changes
// nothing.
TEST(FreeNetwork, ARigidMotionOfAStationsObservationsMovesItsPoseOnly) {
  const NetworkInput input = random_network(10, 4, 8);
  const AdjustmentResult result = adjust(input);
  ASSERT_TRUE(result.adjustment);
  Vec6 motion;
  motion << .3, -.2, .5, 1e-4, -2e-4, 3e-4;
  for (std::uint32_t moved = 0; moved <= 4; ++moved) {  // 4: all of them
    std::vector<Vec3> shifts;
    for (const NestObservation& o : input.observations) {
      const Vec3 lever = input.nests[o.nest] - input.stations[o.station];
      const Vec3 shift = motion.head<3>() + motion.tail<3>().cross(lever);
      shifts.push_back(o.station == moved || moved == 4 ? shift : Vec3(Vec3::Zero()));
    }
    const Response response = result.adjustment->respond(shifts);
    for (std::uint32_t s = 0; s < 4; ++s) {
      const Vec6 expected = s == moved || moved == 4 ? Vec6(-motion) : Vec6(Vec6::Zero());
      EXPECT_LT((response.poses[s] - expected).head<3>().norm(), 1e-9);
      EXPECT_LT((response.poses[s] - expected).tail<3>().norm(), 1e-12);
    }
    for (const Vec3& nest : response.nests) EXPECT_LT(nest.norm(), 1e-9);
  }
}

// One more observation never makes the variance of anything estimable worse: distances between
// nests do not depend on the datum.
TEST(FreeNetwork, MoreObservationsNeverLoosenADistance) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    NetworkInput input = random_network(seed, 3, 6, 1);
    input.datum_nests = {0, 1, 2};
    const Network all = solved(input);
    NetworkInput fewer = input;
    fewer.observations.pop_back();
    const Network less = solved(fewer);
    for (std::size_t n = 3; n < 6; ++n)
      EXPECT_LE(all.nest_covariance[n].trace(), less.nest_covariance[n].trace() * (1 + 1e-12));
  }
}

TEST(FreeNetwork, PerfectRangesAreTakenAsGoodAsTheFloor) {
  NetworkInput input = random_network(11, 3, 6, 1);
  InstrumentError error = example_error();
  error.radial = {};
  for (NestObservation& o : input.observations)
    o.covariance = observation_covariance(error, input.stations[o.station], input.nests[o.nest]);
  const Network network = solved(input);
  for (const Mat6& pose : network.pose_covariance) EXPECT_TRUE(pose.allFinite());
  // With a radial sigma of a thousandth the figures are the same to a few parts in a million.
  error.radial.fixed = 2e-5;
  for (NestObservation& o : input.observations)
    o.covariance = observation_covariance(error, input.stations[o.station], input.nests[o.nest]);
  const Network nearly = solved(input);
  EXPECT_LT(
      relative_difference(in_mm(network.pose_covariance[1]), in_mm(nearly.pose_covariance[1])),
      1e-4);
}

TEST(FreeNetwork, NoStationsAreAnEmptyNetwork) {
  NetworkInput input;
  input.nests = {{1, 2, 3}};
  const Network network = solved(input);
  EXPECT_TRUE(network.pose_covariance.empty());
  EXPECT_EQ(network.nest_covariance.size(), 1u);
}

}  // namespace
}  // namespace standpoint
