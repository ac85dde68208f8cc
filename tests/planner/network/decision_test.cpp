#include "planner/network/decision.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace standpoint {
namespace {

// ISO 14253-1:2017: limits less a guard band, one-sided 95 %: 1.645 u (computed).
TEST(Decision, GuardBandIs1Point645StandardUncertainties) {
  EXPECT_NEAR(.5 * std::erfc(-kGuardFactor / std::sqrt(2.)), .95, 1e-12);
  const GuardedLimits limits = guarded_zone(.5, .1);  // +-0.25, u = .05
  EXPECT_NEAR(limits.guard, .0822427, 1e-7);
  ASSERT_TRUE(limits.acceptance);
  EXPECT_NEAR(limits.acceptance->low, -.1677573, 1e-7);
  EXPECT_NEAR(limits.acceptance->high, .1677573, 1e-7);
}

TEST(Decision, ValuesAreProvenDisprovenOrNeither) {
  const GuardedLimits limits = guarded_zone(.5, .1);
  EXPECT_EQ(judge(limits, 0), Conformity::proven);
  EXPECT_EQ(judge(limits, limits.acceptance->high), Conformity::proven);
  EXPECT_EQ(judge(limits, .17), Conformity::undecided);
  EXPECT_EQ(judge(limits, .25), Conformity::undecided);
  EXPECT_EQ(judge(limits, -.332), Conformity::undecided);
  EXPECT_EQ(judge(limits, -.333), Conformity::disproven);
  EXPECT_EQ(judge(limits, .333), Conformity::disproven);
}

TEST(Decision, NothingCanBeProvenWhenTheGuardBandsMeet) {
  const GuardedLimits limits = guarded_zone(.1, .1);
  EXPECT_FALSE(limits.acceptance);
  EXPECT_EQ(judge(limits, 0), Conformity::undecided);
  EXPECT_EQ(judge(limits, .2), Conformity::disproven);
}

TEST(Decision, AOneSidedLimitHasNoOtherEnd) {
  const double infinite = std::numeric_limits<double>::infinity();
  const GuardedLimits limits = guarded_limits({-infinite, 1}, .1);
  EXPECT_EQ(judge(limits, -1e9), Conformity::proven);
  EXPECT_EQ(judge(limits, .9), Conformity::undecided);
}

// Contract section 6: "ratio" = T / (2 U).
TEST(Decision, RatioIsToleranceOverTwiceTheExpanded) {
  EXPECT_DOUBLE_EQ(tolerance_ratio(.4, .05), 4);
  EXPECT_TRUE(std::isinf(tolerance_ratio(.4, 0)));
}

}  // namespace
}  // namespace standpoint
