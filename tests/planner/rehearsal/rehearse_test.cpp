// Rehearsed trials against what is predicted, and against an adjustment by Gauss and Newton that
// shares no code with the one rehearsed.

#include <gtest/gtest.h>

#include <tbb/global_control.h>
#include <boost/math/distributions/chi_squared.hpp>

#include <Eigen/Dense>

#include "planner/network/adjustment.h"
#include "planner/network/chi_square.h"
#include "planner/rehearsal/draws.h"
#include "planner/rehearsal/rehearse.h"
#include "tests/planner/network/networks.h"

namespace standpoint {
namespace {

using testing::example_error;
using testing::polar_covariance;
using testing::seen;

/// Two or three stations round eight nests, and touches among them.
PlanNetwork hall(std::size_t stations, std::size_t nests) {
  PlanNetwork network;
  const std::vector<Vec3> places{{-2500, -1500, 300}, {2500, -1400, 1200}, {2400, 1600, 400},
                                 {-2600, 1500, 1900}, {0, -1800, 2200},    {100, 1700, 1000},
                                 {-1200, 200, 2600},  {1300, -300, 200}};
  network.input.nests.assign(places.begin(), places.begin() + static_cast<std::ptrdiff_t>(nests));
  const std::vector<Vec3> stands{{-500, -5000, 1500}, {800, 5200, 1400}, {6000, 300, 1600}};
  network.input.stations.assign(stands.begin(),
                                stands.begin() + static_cast<std::ptrdiff_t>(stations));
  for (std::uint32_t s = 0; s < stations; ++s)
    for (std::uint32_t n = 0; n < nests; ++n)
      network.input.observations.push_back(
          {s, n, polar_covariance(example_error(), stands[s], places[n])});
  for (std::uint32_t f = 0; f < 6; ++f) {
    WatchedTouch touch;
    touch.feature = FeatureId(f);
    touch.station = f % static_cast<std::uint32_t>(stations);
    touch.reading = direct_reading(Vec3(-2000.0 + 800 * f, 300.0 * f - 700, 500 + 100.0 * f));
    touch.own = polar_covariance(example_error(), stands[touch.station], touch.reading.place);
    network.touches.push_back(touch);
  }
  return network;
}

TEST(ChiSquare, QuantilesAreThoseOfTheTables) {
  // M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, table 26.8.
  EXPECT_NEAR(chi_square_quantile(1, 0.95), 3.84146, 1e-5);
  EXPECT_NEAR(chi_square_quantile(3, 0.999), 16.2662, 1e-4);
  EXPECT_NEAR(chi_square_quantile(10, 0.05), 3.94030, 1e-5);
}

TEST(ChiSquare, TwoFreedomsAreExponential) {
  // P(X <= x) = 1 - exp(-x / 2) by first principles; both ways to sum are met.
  for (const double x : {0.01, 0.5, 1.0, 3.9, 4.1, 10.0, 40.0})
    EXPECT_NEAR(chi_square_probability(2, x), -std::expm1(-x / 2), 1e-14) << x;
}

TEST(ChiSquare, ManyFreedomsGoToTheNormalDistribution) {
  // E. B. Wilson and M. M. Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684-688: n (1 - 2/9n + z
  // sqrt(2/9n))^3, here good to a few parts in 1e7.
  for (const double n : {2000.0, 100000.0, 1000000.0}) {
    for (const auto& [p, z] : {std::pair(0.025, -1.959964), std::pair(0.975, 1.959964)}) {
      const double expected = n * std::pow(1 - 2 / (9 * n) + z * std::sqrt(2 / (9 * n)), 3);
      EXPECT_NEAR(chi_square_quantile(n, p) / expected, 1, 1e-6) << n << ", " << p;
    }
  }
}

// Boost.Math is the oracle, and not the tool: see chi_square.h.
TEST(ChiSquare, AgreesWithBoostMath) {
  for (const double n : {1.0, 2.0, 3.0, 4.5, 7.0, 29.0, 30.0, 31.0, 200.0, 5000.0, 1e5, 1e6}) {
    const boost::math::chi_squared expected(n);
    for (const double p : {1e-9, 1e-4, 0.025, 0.3, 0.5, 0.9, 0.975, 0.999, 1 - 1e-7}) {
      const double x = quantile(expected, p);
      SCOPED_TRACE(::testing::Message() << n << " degrees of freedom, p = " << p);
      EXPECT_NEAR(chi_square_probability(n, x), cdf(expected, x), n > 5000 ? 2e-10 : 1e-12);
      EXPECT_NEAR(chi_square_quantile(n, p) / x, 1, 1e-10);
    }
  }
}

TEST(Rehearsal, TwoThousandTrialsSpreadAsPredicted) {
  RehearsalOrder order;
  order.seed = 4;
  const auto rehearsal = rehearse_network(hall(3, 8), order, {});
  ASSERT_TRUE(rehearsal);
  ASSERT_EQ(rehearsal->features.size(), 6u);
  // 24 places seen, 3 poses, 8 nests, 6 of the datum: 72 - 18 - 24 + 6.
  EXPECT_EQ(rehearsal->degrees_of_freedom, 36);
  // Root of chi-square over its degrees of freedom: 1 +- 1.96 / sqrt(2 x 2000), by the normal
  // limit.
  EXPECT_NEAR(rehearsal->ratio_low, 1 - 1.96 / std::sqrt(4000), 1e-3);
  EXPECT_NEAR(rehearsal->ratio_high, 1 + 1.96 / std::sqrt(4000), 1e-3);
  for (const FeatureSpread& feature : rehearsal->features) {
    // Six features at once: each at 99.9 % (3.29 standard deviations), not at 95 %.
    EXPECT_NEAR(feature.ratio, 1, 3.29 / std::sqrt(4000)) << feature.feature.index;
    EXPECT_GT(feature.predicted, 0.01);
  }
  EXPECT_NEAR(rehearsal->mean_square_sum, 36, 4 * std::sqrt(2 * 36 / 2000.0));
  EXPECT_NEAR(rehearsal->flagged_global, 0.05, 4 * std::sqrt(0.05 * 0.95 / 2000));
  // 24 observations at a thousandth each, nearly independent.
  EXPECT_NEAR(rehearsal->flagged_local, 0.024, 4 * std::sqrt(0.024 / 2000));
}

TEST(Rehearsal, ManyMoreTrialsCloseInOnThePrediction) {
  RehearsalOrder order;
  order.trials = 50000;
  order.blunder_trials = 0;
  const auto rehearsal = rehearse_network(hall(3, 8), order, {});
  ASSERT_TRUE(rehearsal);
  for (const FeatureSpread& feature : rehearsal->features)
    EXPECT_NEAR(feature.ratio, 1, 4 / std::sqrt(2 * 50000.0)) << feature.feature.index;
}

TEST(Rehearsal, ManySeedsStayInsideTheBoundsAsOftenAsTheySay) {
  int within = 0, count = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    RehearsalOrder order;
    order.seed = seed;
    order.trials = 400;
    order.blunder_trials = 0;
    const auto rehearsal = rehearse_network(hall(2, 5), order, {});
    ASSERT_TRUE(rehearsal);
    for (const FeatureSpread& feature : rehearsal->features) {
      within += feature.is_within ? 1 : 0;
      ++count;
    }
  }
  // 95 % of 240, four standard deviations of as many independent draws (features of one rehearsal
  // are not quite independent, hence the width).
  EXPECT_GT(within, 0.95 * count - 6 * std::sqrt(count * 0.05 * 0.95));
  EXPECT_LT(within, count) << "bounds that nothing ever leaves are too wide";
}

/// Adjusts observed places (world, laid over by the nominal poses) by Gauss and Newton on the
/// non-linear model with differences for derivatives; the first station's pose is returned after a
/// Helmert fit that keeps the nests' shifts and turns at zero.
struct Adjusted {
  std::vector<Vec6> poses;
  std::vector<Vec3> nests;
};
Adjusted gauss_newton(const NetworkInput& input, const std::vector<Vec3>& shifts) {
  const auto stations = static_cast<Eigen::Index>(input.stations.size());
  const auto nests = static_cast<Eigen::Index>(input.nests.size());
  const Eigen::Index size = 6 * stations + 3 * nests;
  Eigen::VectorXd x = Eigen::VectorXd::Zero(size);
  const auto residual = [&](const Eigen::VectorXd& at) {
    Eigen::VectorXd r(static_cast<Eigen::Index>(3 * shifts.size()));
    for (std::size_t i = 0; i < shifts.size(); ++i) {
      const NestObservation& o = input.observations[i];
      const Vec6 pose = at.segment<6>(6 * o.station);
      const Vec3 nest = input.nests[o.nest] + at.segment<3>(6 * stations + 3 * o.nest);
      const Vec3 observed = input.nests[o.nest] - input.stations[o.station] + shifts[i];
      const Mat3 whiten = o.covariance.llt().matrixL().solve(Mat3(Mat3::Identity()));
      r.segment<3>(static_cast<Eigen::Index>(3 * i)) =
          whiten * (seen(input.stations[o.station], pose, nest) - observed);
    }
    return r;
  };
  Vec3 centre = Vec3::Zero();
  for (const Vec3& nest : input.nests) centre += nest / static_cast<double>(nests);
  Eigen::MatrixXd datum = Eigen::MatrixXd::Zero(6, size);
  for (Eigen::Index n = 0; n < nests; ++n) {
    const Vec3 arm = (input.nests[static_cast<std::size_t>(n)] - centre) / 1000;
    datum.block<3, 3>(0, 6 * stations + 3 * n).setIdentity();
    datum.block<3, 3>(3, 6 * stations + 3 * n) << 0, -arm.z(), arm.y(), arm.z(), 0, -arm.x(),
        -arm.y(), arm.x(), 0;
  }
  for (int iteration = 0; iteration < 6; ++iteration) {
    const Eigen::VectorXd r = residual(x);
    Eigen::MatrixXd jacobian(r.size(), size);
    for (Eigen::Index k = 0; k < size; ++k) {
      const bool is_turn = k < 6 * stations && k % 6 >= 3;
      const double step = is_turn ? 1e-6 : 1e-2;
      Eigen::VectorXd up = x, down = x;
      up[k] += step;
      down[k] -= step;
      jacobian.col(k) = (residual(up) - residual(down)) / (2 * step);
    }
    Eigen::MatrixXd bordered = Eigen::MatrixXd::Zero(size + 6, size + 6);
    bordered.topLeftCorner(size, size) = jacobian.transpose() * jacobian;
    bordered.bottomLeftCorner(6, size) = datum;
    bordered.topRightCorner(size, 6) = datum.transpose();
    Eigen::VectorXd right = Eigen::VectorXd::Zero(size + 6);
    right.head(size) = -jacobian.transpose() * r;
    right.tail(6) = -datum * x;
    x += Eigen::VectorXd(bordered.fullPivLu().solve(right)).head(size);
  }
  Adjusted result;
  for (Eigen::Index s = 0; s < stations; ++s) result.poses.push_back(x.segment<6>(6 * s));
  for (Eigen::Index n = 0; n < nests; ++n)
    result.nests.push_back(x.segment<3>(6 * stations + 3 * n));
  return result;
}

TEST(Rehearsal, ItsLinearAnswerIsThatOfTheWholeAdjustment) {
  const PlanNetwork network = hall(3, 6);
  const auto adjustment = adjust(network.input);
  ASSERT_TRUE(adjustment.adjustment);
  for (std::uint64_t trial = 0; trial < 5; ++trial) {
    TrialDraws draws(7, 0, trial);
    std::vector<Vec3> shifts;
    for (const NestObservation& o : network.input.observations)
      shifts.push_back(draws.normal(covariance_root(o.covariance)));
    const Response linear = adjustment.adjustment->respond(shifts);
    const Adjusted whole = gauss_newton(network.input, shifts);
    for (std::size_t n = 0; n < whole.nests.size(); ++n)
      EXPECT_LT((whole.nests[n] - linear.nests[n]).norm(), 1e-5) << "mm; errors are some 1e-2";
    for (const WatchedTouch& touch : network.touches) {
      const Vec3 arm = touch.reading.place - network.input.stations[touch.station];
      const auto off = [&](const Vec6& pose) -> Vec3 {
        return pose.head<3>() + pose.tail<3>().cross(arm);
      };
      EXPECT_LT((off(whole.poses[touch.station]) - off(linear.poses[touch.station])).norm(), 1e-5);
    }
  }
}

TEST(Rehearsal, BlundersAreCaughtAndNamedWhereTheNetworkIsStrong) {
  RehearsalOrder order;
  order.trials = 200;
  order.moved_by = 0.3;
  const auto rehearsal = rehearse_network(hall(3, 8), order, {});
  ASSERT_TRUE(rehearsal);
  int swaps = 0, moves = 0;
  for (const BlunderCatch& blunder : rehearsal->blunders) {
    if (blunder.kind == BlunderKind::swapped) {
      ++swaps;
      EXPECT_EQ(blunder.flagged_global, 1) << "metres apart";
      EXPECT_GT(blunder.size, 1000);
      continue;
    }
    ++moves;
    EXPECT_EQ(blunder.size, 0.3);
    EXPECT_GT(blunder.flagged_global, 0.9) << "some ten standard uncertainties";
    EXPECT_GT(blunder.named, 0.8);
    EXPECT_GT(blunder.worst_shift, 0.001);
    EXPECT_LT(blunder.worst_shift, 0.6);
  }
  EXPECT_EQ(swaps, 3);
  EXPECT_EQ(moves, 8);
}

TEST(Rehearsal, ThreeNestsAndTwoStationsCannotTellWhichNestMoved) {
  RehearsalOrder order;
  order.trials = 400;
  order.blunder_trials = 400;
  const auto rehearsal = rehearse_network(hall(2, 3), order, {});
  ASSERT_TRUE(rehearsal);
  EXPECT_EQ(rehearsal->degrees_of_freedom, 3);
  double named = 0;
  int moves = 0;
  for (const BlunderCatch& blunder : rehearsal->blunders) {
    if (blunder.kind != BlunderKind::moved) continue;
    named += blunder.named;
    ++moves;
  }
  ASSERT_EQ(moves, 3);
  EXPECT_LT(named / moves, 0.7) << "three distances hold no more than that something is wrong";
}

TEST(Rehearsal, SameSeedSameBitsAtAnyNumberOfThreads) {
  RehearsalOrder order;
  order.trials = 300;
  order.seed = 11;
  const auto many = rehearse_network(hall(2, 6), order, {});
  std::optional<Rehearsal> one;
  {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
    one = rehearse_network(hall(2, 6), order, {});
  }
  order.seed = 12;
  const auto other = rehearse_network(hall(2, 6), order, {});
  ASSERT_TRUE(many && one && other);
  for (std::size_t f = 0; f < many->features.size(); ++f) {
    EXPECT_EQ(many->features[f].spread, one->features[f].spread);
    EXPECT_NE(many->features[f].spread, other->features[f].spread);
  }
  EXPECT_EQ(many->mean_square_sum, one->mean_square_sum);
  for (std::size_t b = 0; b < many->blunders.size(); ++b) {
    EXPECT_EQ(many->blunders[b].flagged_global, one->blunders[b].flagged_global);
    EXPECT_EQ(many->blunders[b].worst_shift, one->blunders[b].worst_shift);
  }
}

}  // namespace
}  // namespace standpoint
