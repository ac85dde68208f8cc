#include "planner/network/what_if.h"

#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include <cmath>
#include <cstring>

#include "dense_oracle.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

using namespace testing;

std::vector<WatchedTouch> touches_of(const NetworkInput& input, std::uint64_t seed,
                                     std::size_t features, std::size_t each) {
  test::Draw draw(seed);
  std::vector<WatchedTouch> touches;
  for (std::size_t f = 0; f < features; ++f) {
    const auto station = static_cast<std::uint32_t>(draw.below(input.stations.size()));
    for (std::size_t i = 0; i < each; ++i) {
      WatchedTouch touch;
      touch.feature = FeatureId(f);
      touch.station = station;
      touch.reading = direct_reading(draw.in_box({-4000, -4000, 0}, {4000, 4000, 2000}));
      touch.own = polar_covariance(example_error(), input.stations[station], touch.reading.place);
      touches.push_back(touch);
    }
  }
  return touches;
}

/// Expanded uncertainties by the dense oracle, touch by touch.
std::vector<double> expanded_by_oracle(const NetworkInput& input,
                                       const std::vector<WatchedTouch>& touches) {
  const DenseAnswer answer = DenseOracle(input, example_error()).answer();
  std::vector<double> expanded;
  for (const WatchedTouch& touch : touches) {
    const Vec3 r = touch.reading.place - input.stations[touch.station];
    Eigen::Matrix<double, 3, 6> carry = Eigen::Matrix<double, 3, 6>::Zero();
    for (int k = 0; k < 3; ++k) {
      carry.col(k) = Vec3::Unit(k);
      carry.col(3 + k) = Vec3::Unit(k).cross(r);
    }
    const Mat3 sum = carry * answer.poses[touch.station] * carry.transpose() + touch.own;
    expanded.push_back(2 * std::sqrt(Eigen::JacobiSVD<Mat3>(sum).singularValues()[0]));
  }
  return expanded;
}

/// The same network with nest `gone` struck from the lists, as somebody else would write it.
NetworkInput struck(const NetworkInput& input, std::uint32_t gone) {
  NetworkInput rest = input;
  rest.nests.erase(rest.nests.begin() + gone);
  rest.observations.clear();
  for (const NestObservation& o : input.observations)
    if (o.nest != gone)
      rest.observations.push_back({o.station, o.nest - (o.nest > gone ? 1 : 0), o.covariance});
  return rest;
}

TEST(WhatIf, EachNestKnockedOffAgreesWithTheNetworkWithoutIt) {
  const NetworkInput input = random_network(5, 3, 7);
  const std::vector<WatchedTouch> touches = touches_of(input, 5, 4, 3);
  const std::vector<double> before = expanded_by_oracle(input, touches);
  const std::vector<WhatIf> outcomes = leave_one_out(input, touches);
  ASSERT_EQ(outcomes.size(), 7u);
  for (std::uint32_t gone = 0; gone < 7; ++gone) {
    SCOPED_TRACE("nest " + std::to_string(gone));
    const std::vector<double> after = expanded_by_oracle(struck(input, gone), touches);
    std::size_t worst = 0;
    for (std::size_t i = 1; i < after.size(); ++i)
      if (after[i] > after[worst]) worst = i;
    ASSERT_TRUE(outcomes[gone].worst);
    EXPECT_EQ(outcomes[gone].worst->touch, worst);
    EXPECT_NEAR(outcomes[gone].worst->expanded, after[worst], 1e-7);
    double most = 0;
    std::size_t changed = 0;
    for (std::size_t f = 0; f < 4; ++f) {
      double was = 0, is = 0;
      for (std::size_t i = 3 * f; i < 3 * f + 3; ++i) {
        was = std::max(was, before[i]);
        is = std::max(is, after[i]);
      }
      if (std::abs(std::log(is / was)) > most) {
        most = std::abs(std::log(is / was));
        changed = f;
      }
    }
    EXPECT_EQ(outcomes[gone].most_changed->feature, FeatureId(changed));
    EXPECT_NEAR(std::abs(std::log(outcomes[gone].ratio)), most, 1e-6);
  }
}

TEST(WhatIf, ANestThatHoldsTheTieIsNamedBeforeItFalls) {
  NetworkInput input = random_network(6, 2, 6, 1);
  std::erase_if(input.observations,
                [](const NestObservation& o) { return o.station == 1 && o.nest > 2; });
  const std::vector<WhatIf> outcomes = leave_one_out(input, touches_of(input, 6, 2, 2));
  for (std::uint32_t gone = 0; gone < 6; ++gone) {
    if (gone > 2) {
      EXPECT_TRUE(outcomes[gone].deficient.empty());
      EXPECT_TRUE(outcomes[gone].worst);
      continue;
    }
    EXPECT_FALSE(outcomes[gone].worst);
    ASSERT_EQ(outcomes[gone].deficient.size(), 1u);
    EXPECT_EQ(outcomes[gone].deficient[0].tie, Tie::two_nests);
    EXPECT_EQ(outcomes[gone].deficient[0].nests.size(), 2u);
  }
}

TEST(WhatIf, AnAddedNestIsWorthWhatTheNetworkWithItSays) {
  const NetworkInput input = random_network(8, 2, 5, 1);
  const std::vector<WatchedTouch> touches = touches_of(input, 8, 3, 2);
  NetworkInput more = input;
  more.nests.push_back({-2500, 1800, 2400});
  Addition addition;
  addition.nests = {more.nests.back()};
  for (std::uint32_t s = 0; s < 2; ++s) {
    more.observations.push_back(
        {s, 5, polar_covariance(example_error(), input.stations[s], more.nests.back())});
    addition.observations.push_back(more.observations.back());
  }
  const std::vector<WhatIf> outcomes = with_each(input, touches, {Addition{}, addition});
  const std::vector<double> before = expanded_by_oracle(input, touches);
  const std::vector<double> after = expanded_by_oracle(more, touches);
  EXPECT_NEAR(outcomes[0].worst->expanded, *std::max_element(before.begin(), before.end()), 1e-7);
  EXPECT_EQ(outcomes[0].ratio, 1);
  EXPECT_NEAR(outcomes[1].worst->expanded, *std::max_element(after.begin(), after.end()), 1e-7);
  EXPECT_LT(outcomes[1].ratio, 1);
}

TEST(WhatIf, TheNumberOfThreadsChangesNoBit) {
  const NetworkInput input = random_network(9, 4, 12);
  const std::vector<WatchedTouch> touches = touches_of(input, 9, 6, 3);
  const std::vector<WhatIf> many = leave_one_out(input, touches);
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  const std::vector<WhatIf> single = leave_one_out(input, touches);
  for (std::size_t i = 0; i < many.size(); ++i) {
    EXPECT_EQ(std::memcmp(&many[i].worst->expanded, &single[i].worst->expanded, sizeof(double)), 0);
    EXPECT_EQ(many[i].ratio, single[i].ratio);
  }
}

/// One station, a ring of nests about (2000, 0, 1000), 4 m from the station.
struct Ring {
  NetworkInput input;
  Ring() {
    input.stations = {{-2000, 0, 1000}};
    for (int i = 0; i < 6; ++i) {
      const double a = M_PI / 3 * i;
      input.nests.push_back({2000, 800 * std::cos(a), 1000 + 800 * std::sin(a)});
    }
    for (std::uint32_t n = 0; n < 6; ++n)
      input.observations.push_back(
          {0, n, polar_covariance(example_error(), input.stations[0], input.nests[n])});
  }
  [[nodiscard]] WorstContributor of(const Reading& reading) const {
    WatchedTouch touch;
    touch.reading = reading;
    touch.own = reading_covariance(example_error(), input.stations[0], reading);
    return worst_features(*solve_network(input).network, input, example_error(), {touch}, 3).at(0);
  }
};

TEST(WhatIf, TheReasonIsTheGreatestShare) {
  Ring ring;
  EXPECT_EQ(ring.of(direct_reading({2000, 0, 1000})).reason, Reason::range);
  EXPECT_EQ(ring.of(direct_reading({2000, 0, 1000}, .5)).reason, Reason::stylus);
  EXPECT_EQ(ring.of(two_ball_reading({2000, 0, 1000}, {0, 0, 1}, {300, 400})).reason,
            Reason::stylus);
  // Far outside the nests the pose's turning is carried by a long arm.
  EXPECT_EQ(ring.of(direct_reading({2000, 9000, 1000})).reason, Reason::extrapolation);
  // Nests seen ten times worse than touches: the pose is weak even among them.
  for (NestObservation& o : ring.input.observations) o.covariance *= 100;
  EXPECT_EQ(ring.of(direct_reading({2000, 0, 1000})).reason, Reason::weak_tie);
  const WorstContributor s = ring.of(direct_reading({2000, 50, 1000}));
  EXPECT_NEAR(s.shares[0] + s.shares[1] + s.shares[2] + s.shares[3], 1, 1e-12);
}

TEST(WhatIf, TheWorstFeaturesComeFirstAndByTheirWorstTouch) {
  const NetworkInput input = random_network(10, 3, 7);
  const std::vector<WatchedTouch> touches = touches_of(input, 10, 6, 4);
  const std::vector<double> expanded = expanded_by_oracle(input, touches);
  const std::vector<WorstContributor> worst =
      worst_features(*solve_network(input).network, input, example_error(), touches, 3);
  ASSERT_EQ(worst.size(), 3u);
  const auto of_feature = [&](std::size_t f) {
    return *std::max_element(expanded.begin() + 4 * f, expanded.begin() + 4 * f + 4);
  };
  std::vector<double> all;
  for (std::size_t f = 0; f < 6; ++f) all.push_back(of_feature(f));
  std::sort(all.rbegin(), all.rend());
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(worst[i].uncertainty.expanded, all[i], 1e-7);
    EXPECT_NEAR(expanded[worst[i].uncertainty.touch], all[i], 1e-7);
    EXPECT_EQ(touches[worst[i].uncertainty.touch].feature, worst[i].uncertainty.feature);
  }
}

}  // namespace
}  // namespace standpoint
