#include "io/cli/remaining_time.h"

#include <gtest/gtest.h>

#include <cmath>

namespace standpoint {
namespace {

TEST(RemainingTime, SaysNothingBeforeThereIsSomethingToGoBy) {
  RemainingTime time;
  EXPECT_FALSE(time.left_s(Stage::reach, 0.0, 100));
  EXPECT_FALSE(time.left_s(Stage::reach, 0.5, 101)) << "too soon";
  EXPECT_FALSE(time.left_s(Stage::reach, 0.5, 101.9));
  EXPECT_TRUE(time.left_s(Stage::reach, 0.5, 102));
  EXPECT_FALSE(time.left_s(Stage::choose, 0.0, 103)) << "another step begins anew";
  EXPECT_FALSE(time.left_s(Stage::choose, 0.04, 200)) << "too little done";
}

TEST(RemainingTime, IsExactForWorkThatGoesEvenly) {
  RemainingTime time;
  for (int i = 0; i <= 1000; ++i) {
    const auto left = time.left_s(Stage::reach, i / 1000.0, 7 + 0.06 * i);
    if (i >= 50) ASSERT_NEAR(*left, 0.06 * (1000 - i), 1e-9) << i;
  }
}

TEST(RemainingTime, DoesNotPromiseTooMuchWhereTheWorkGetsSlower) {
  // The fraction done after t of 100 s is sqrt(t / 100): slower and slower.
  RemainingTime time;
  double least_share = 1;
  for (double t = 0; t < 100; t += 0.1) {
    const auto left = time.left_s(Stage::reach, std::sqrt(t / 100), t);
    if (left && t > 20) least_share = std::min(least_share, *left / (100 - t));
  }
  // From the whole step alone it would be sqrt(20 / 100) = 0.45 at worst.
  EXPECT_GT(least_share, 0.5);
  RemainingTime faster;
  for (double t = 0; t < 100; t += 0.1) {
    const auto left = faster.left_s(Stage::reach, t * t / 1e4, t);
    if (left && t > 30) ASSERT_GT(*left, 100 - t) << "work that gets faster: rather too long";
  }
}

TEST(RemainingTime, IsRoundedUpInWords) {
  EXPECT_EQ(remaining_words(0.2), "about 5 s left");
  EXPECT_EQ(remaining_words(41), "about 45 s left");
  EXPECT_EQ(remaining_words(56), "about 1 min left");
  EXPECT_EQ(remaining_words(80), "about 1.5 min left");
  EXPECT_EQ(remaining_words(599), "about 10 min left");
  EXPECT_EQ(remaining_words(601), "about 11 min left");
}

}  // namespace
}  // namespace standpoint
