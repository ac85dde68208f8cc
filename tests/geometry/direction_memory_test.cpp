// What one search finds out about directions, others read: nothing may get lost or mixed up, and
// memory stays limited however many ask.

#include "geometry/direction_memory.h"

#include <gtest/gtest.h>

#include <thread>

#include "tests/draw.h"

namespace standpoint {
namespace {

constexpr int kFinest = DirectionPatch::kFinestLevel;

/// An answer that depends on the patch alone, mixed so that neighbours differ.
PatchAnswer answer_of(const DirectionPatch& patch) {
  const std::uint32_t mixed = (patch.index() + 7u * patch.level) * 2654435761u >> 16;
  return {(mixed & 1) != 0, static_cast<std::uint8_t>(mixed >> 1 & 0xf)};
}

bool answer_of(std::uint32_t finest_index) {
  return (finest_index * 2654435761u >> 20 & 1) != 0;
}

TEST(DirectionMemory, EachPatchAndDirectionKeepsItsOwnAnswer) {
  KnownDirections known;
  for (int level = 0; level < kFinest; ++level) {
    for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); k += 2) {
      const auto patch = DirectionPatch::of_index(level, k);
      known.keep(patch, answer_of(patch));
    }
  }
  for (std::uint32_t k = 0; k < DirectionPatch::kFinestCount; k += 3) known.keep(k, answer_of(k));
  for (int level = 0; level < kFinest; ++level) {
    for (std::uint32_t k = 0; k < DirectionPatch::count_at(level); ++k) {
      const auto patch = DirectionPatch::of_index(level, k);
      if (k % 2 == 0) {
        ASSERT_EQ(known.patch(patch), answer_of(patch)) << "level " << level << ", patch " << k;
      } else {
        ASSERT_FALSE(known.patch(patch)) << "level " << level << ", patch " << k;
      }
    }
  }
  for (std::uint32_t k = 0; k < DirectionPatch::kFinestCount; ++k) {
    if (k % 3 == 0) {
      ASSERT_EQ(known.direction(k), answer_of(k)) << k;
    } else {
      ASSERT_FALSE(known.direction(k)) << k;
    }
  }
}

TEST(DirectionMemory, TheSameNumbersAreTheSameQuestion) {
  DirectionMemory memory;
  memory.about({1, 2, 3})->keep(7u, true);
  EXPECT_EQ(memory.about({1, 2, 3})->direction(7), true);
  EXPECT_FALSE(memory.about({1, 2, 3.5})->direction(7));
  EXPECT_FALSE(memory.about({1, 2})->direction(7));
}

TEST(DirectionMemory, WhatManyThreadsKeepAtOnceIsAllThere) {
  DirectionMemory memory;
  std::vector<std::thread> threads;
  for (std::uint32_t t = 0; t < 4; ++t) {
    threads.emplace_back([&memory, t] {
      for (int question = 0; question < 20; ++question) {
        const auto known = memory.about({static_cast<double>(question)});
        // Neighbours share a word; every second one is kept by two threads.
        for (std::uint32_t k = t; k < 4000; k += 2) known->keep(k, answer_of(k));
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  for (int question = 0; question < 20; ++question) {
    const auto known = memory.about({static_cast<double>(question)});
    for (std::uint32_t k = 0; k < 4000; ++k) ASSERT_EQ(known->direction(k), answer_of(k)) << k;
  }
}

TEST(DirectionMemory, AHundredThousandTouchesStayWithinTheLimit) {
  DirectionMemory memory;
  std::size_t shared = 0;
  for (int touch = 0; touch < 100'000; ++touch) {
    const std::vector<double> question(20, touch);
    const auto known = memory.about(question);
    known->keep(1u, true);
    EXPECT_EQ(known->direction(1), true) << "remembered by its asker in any case";
    shared += known.use_count() > 1 ? 1 : 0;
  }
  EXPECT_LE(memory.bytes(), DirectionMemory::kMostBytes);
  EXPECT_GT(memory.bytes(), DirectionMemory::kMostBytes - 20'000) << "and all of it is used";
  EXPECT_GT(shared, 15'000u);
  EXPECT_LT(shared, 100'000u);
  EXPECT_EQ(memory.about(std::vector<double>(20, 3))->direction(1), true);
  EXPECT_FALSE(memory.about(std::vector<double>(20, 99'999))->direction(1)) << "not shared";
  // The limit counts what is really held.
  EXPECT_GE(memory.bytes(), shared * sizeof(KnownDirections));
}

}  // namespace
}  // namespace standpoint
