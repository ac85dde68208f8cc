// Large products are added up in one order on every processor, so that a network's last bits are
// the same everywhere.

#include <Eigen/Core>

#include <gtest/gtest.h>

#include "planner/network/adjustment.h"

namespace standpoint {
namespace {

TEST(Products, AreBlockedAlikeOnEveryProcessor) {
  // Whatever the linker takes of the library, this takes the adjustment.
  const NetworkInput nothing_at_all;
  EXPECT_TRUE(adjust(nothing_at_all).adjustment.has_value());
  EXPECT_EQ(Eigen::l1CacheSize(), 32 * 1024);
  EXPECT_EQ(Eigen::l2CacheSize(), 256 * 1024);
  EXPECT_EQ(Eigen::l3CacheSize(), 2 * 1024 * 1024);
}

}  // namespace
}  // namespace standpoint
