#include "io/read/text/nearest_name.h"
#include "tests/draw.h"

#include <gtest/gtest.h>

#include <array>
#include <deque>
#include <set>

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 6> kNames{"centre", "diameter", "min_margin",
                                                 "at",     "axis",     "tight_margin"};

TEST(NearestName, SlipsOfTheKeyboardAreFound) {
  EXPECT_EQ(nearest_name("center", kNames), "centre") << "neighbours swapped";
  EXPECT_EQ(nearest_name("diametre", kNames), "diameter");
  EXPECT_EQ(nearest_name("diamter", kNames), "diameter") << "one lost";
  EXPECT_EQ(nearest_name("minmargin", kNames), "min_margin");
  EXPECT_EQ(nearest_name("Min-Margin", kNames), "min_margin");
  EXPECT_EQ(nearest_name("axes", kNames), "axis");
}

TEST(NearestName, WhatIsFarOrTooShortHasNone) {
  EXPECT_EQ(nearest_name("radius", kNames), "");
  EXPECT_EQ(nearest_name("it", kNames), "") << "any two letters are two edits apart";
  EXPECT_EQ(nearest_name("axle", kNames), "") << "two edits in four letters are another word";
  EXPECT_EQ(nearest_name("", kNames), "");
  EXPECT_EQ(nearest_name(std::string(100000, 'x'), kNames), "");
}

TEST(NearestName, OfANumberedRowTheNextNumberIsNearest) {
  constexpr std::array<std::string_view, 5> kPads{"pad-1", "pad-2", "lid-9", "pad-8", "pad-3"};
  EXPECT_EQ(nearest_name("pad-9", kPads), "pad-8");
  EXPECT_EQ(nearest_name("pad-0", kPads), "pad-1");
  EXPECT_EQ(nearest_name("Pad 3", kPads), "pad-3");
}

/// All words at most two edits from `word` over the letters a and b, by making the edits.
std::set<std::string> within_two_edits(const std::string& word) {
  std::set<std::string> found{word};
  for (int round = 0; round < 2; ++round) {
    for (const std::string& w : std::set<std::string>(found)) {
      for (std::size_t i = 0; i <= w.size(); ++i) {
        for (const char c : {'a', 'b'}) {
          found.insert(w.substr(0, i) + c + w.substr(i));
          if (i < w.size()) found.insert(w.substr(0, i) + c + w.substr(i + 1));
        }
        if (i < w.size()) found.insert(w.substr(0, i) + w.substr(i + 1));
        if (i + 1 < w.size()) found.insert(w.substr(0, i) + w[i + 1] + w[i] + w.substr(i + 2));
      }
    }
  }
  return found;
}

TEST(NearestName, TwoEditsAreFoundAndNoMoreThanTwoAre) {
  constexpr unsigned kSeed = 7;
  test::Draw draw(kSeed);
  int hits = 0, misses = 0;
  for (int round = 0; round < 400; ++round) {
    std::string a(6 + draw.below(3), 'a'), b(6 + draw.below(3), 'a');
    for (char& c : a) c = draw.chance(0.5) ? 'a' : 'b';
    for (char& c : b) c = draw.chance(0.5) ? 'a' : 'b';
    const std::array<std::string_view, 1> names{b};
    const bool is_found = !nearest_name(a, names).empty();
    const bool is_near = within_two_edits(a).count(b) > 0;
    (is_near ? hits : misses)++;
    // Optimal string alignment edits no letter twice; making edits may. It may only miss a few.
    if (is_found) {
      ASSERT_TRUE(is_near) << "seed " << kSeed << " round " << round << " " << a << " " << b;
    }
    if (is_near && !is_found) --hits;
  }
  EXPECT_GT(hits, 100);
  EXPECT_GT(misses, 50);
}

}  // namespace
}  // namespace standpoint
