#include <sstream>

#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/planner/cover/cover_oracle.h"

namespace standpoint {
namespace {

std::string to_text(const PlainCover& plain) {
  std::ostringstream out;
  for (std::size_t c = 0; c < plain.covers.size(); ++c) {
    out << "\n  column " << c << ": ";
    for (std::size_t row = 0; row < plain.counts.size(); ++row) {
      out << (plain.fully[c][row] ? '2' : plain.covers[c][row] ? '1' : '.');
    }
    if (!plain.has_links) continue;
    out << " group " << plain.group_of[c] << " linked";
    for (std::size_t d = 0; d < plain.covers.size(); ++d) {
      if (plain.linked(c, d)) out << ' ' << d;
    }
  }
  for (const PlainWay& way : plain.ways) {
    out << "\n  row " << way.row << (way.is_full ? " full" : "") << " count " << way.count << ":";
    for (const auto& taken : way.taken) {
      out << ' ';
      for (const bool has : taken) out << has;
    }
    out << " not enough";
    for (const auto& set : way.not_enough) {
      out << ' ';
      for (const bool has : set) out << has;
    }
  }
  if (!plain.cost.empty()) out << "\n  costs " << testing::PrintToString(plain.cost);
  out << "\n  counts: ";
  for (const bool counts : plain.counts) out << counts;
  out << " times " << plain.times << " keep";
  for (const auto c : plain.keep) out << ' ' << c;
  return out.str();
}

/// How the random problems of one family look.
struct Family {
  std::size_t columns = 8, rows = 8;
  double density = 0.3, full_share = 0.5, counted_share = 0.8;
  int most_times = 1;
  bool has_links = false;
  std::size_t groups = 0;  ///< 0: a group for each column
  double link_density = 0.3;
  double keep_share = 0;
  double copy_share = 0.2;  ///< of columns made from an earlier one, with bits taken off
  double shared_share = 0;  ///< of rows that columns may cover together
  double touch_density = 0.3;
  std::vector<double> costs{};  ///< that columns may have; empty: 1 each
};

/// Ways to cover some rows together: two thirds decided by sets, one by count; of a third of the
/// rows two ways, in part with touches of the first.
void add_ways(const Family& family, test::Draw& draw, PlainCover& plain) {
  for (std::size_t row = 0; row < family.rows; ++row) {
    if (!draw.chance(family.shared_share)) continue;
    const std::size_t touches = 3 + draw.below(6);
    const std::size_t ways = 1 + draw.below(2);
    const std::size_t count = draw.below(3) == 0 ? 2 + draw.below(touches - 1) : 0;
    std::vector<std::vector<bool>> not_enough;
    for (std::size_t i = 0; i < 2 + draw.below(5); ++i) {
      std::vector<bool> set(touches);
      for (std::size_t t = 0; t < touches; ++t) set[t] = draw.chance(0.6);
      set[draw.below(touches)] = false;
      not_enough.push_back(set);
    }
    for (std::size_t w = 0; w < ways; ++w) {
      PlainWay way{
          row, draw.chance(0.6), {}, count > 0 ? decltype(not_enough){} : not_enough, count};
      for (std::size_t c = 0; c < family.columns; ++c) {
        std::vector<bool> taken(touches);
        for (std::size_t t = 0; t < touches; ++t) {
          taken[t] = draw.chance(family.touch_density) ||
                     (w > 0 && plain.ways.back().taken[c][t] && draw.chance(0.8));
        }
        // A column that has enough covers the row alone.
        if (way.is_enough(taken)) {
          plain.covers[c][row] = true;
          plain.fully[c][row] = plain.fully[c][row] || way.is_full;
        }
        way.taken.push_back(taken);
      }
      plain.ways.push_back(way);
    }
  }
}

PlainCover random_cover(const Family& family, test::Draw& draw) {
  PlainCover plain;
  for (std::size_t row = 0; row < family.rows; ++row) {
    plain.counts.push_back(draw.chance(family.counted_share));
  }
  for (std::uint32_t c = 0; c < family.columns; ++c) {
    std::vector<bool> covers(family.rows), fully(family.rows);
    const bool is_copy = c > 0 && draw.chance(family.copy_share);
    const std::size_t from = is_copy ? draw.below(c) : 0;
    for (std::size_t row = 0; row < family.rows; ++row) {
      covers[row] =
          is_copy ? plain.covers[from][row] && draw.chance(0.9) : draw.chance(family.density);
      fully[row] =
          covers[row] && (is_copy ? plain.fully[from][row] : draw.chance(family.full_share));
    }
    plain.covers.push_back(covers);
    plain.fully.push_back(fully);
    if (draw.chance(family.keep_share)) plain.keep.push_back(c);
  }
  for (std::uint32_t c = 0; c < family.columns && !family.costs.empty(); ++c)
    plain.cost.push_back(family.costs[draw.below(family.costs.size())]);
  add_ways(family, draw, plain);
  plain.times = 1 + static_cast<int>(draw.below(static_cast<std::size_t>(family.most_times)));
  plain.has_links = family.has_links;
  if (!family.has_links) return plain;
  const std::size_t groups = family.groups == 0 ? family.columns : family.groups;
  for (std::uint32_t c = 0; c < family.columns; ++c) {
    plain.group_of.push_back(family.groups == 0 ? c
                                                : static_cast<std::uint32_t>(draw.below(groups)));
  }
  plain.groups_linked.assign(groups, std::vector<bool>(groups));
  for (std::size_t g = 0; g < groups; ++g) {
    for (std::size_t h = 0; h <= g; ++h) {
      plain.groups_linked[g][h] = plain.groups_linked[h][g] = draw.chance(family.link_density);
    }
  }
  return plain;
}

void expect_as_exhaustive(const Family& family, std::uint64_t seed, int cases) {
  test::Draw draw(seed);
  for (int i = 0; i < cases; ++i) {
    const PlainCover plain = random_cover(family, draw);
    const ExhaustiveAnswer expected = exhaustive_cover(plain);
    const CoverSolution solution = solve_cover(problem_from(plain), 100);
    const auto [covered, minus_cost, full] = expected.worth;
    SCOPED_TRACE("seed " + std::to_string(seed) + " case " + std::to_string(i) + to_text(plain));
    ASSERT_EQ(worth_of(plain, solution.columns), expected.worth)
        << "chosen " << testing::PrintToString(solution.columns);
    ASSERT_EQ(solution.keep_tied, expected.keep_tied);
    if (expected.keep_tied) {
      ASSERT_TRUE(is_tied(plain, solution.columns));
    }
    ASSERT_TRUE(std::ranges::includes(solution.columns, plain.keep));
    ASSERT_EQ(solution.status, CoverStatus::optimal);
    ASSERT_EQ(solution.covered, covered);
    ASSERT_EQ(solution.lower_bound, -minus_cost);
    ASSERT_EQ(solution.cost, -minus_cost);
    ASSERT_EQ(solution.full_rows, full);
    ASSERT_EQ(solution.full_bound, full);
  }
}

TEST(CoverAgainstExhaustiveSearch, WithoutTies) {
  expect_as_exhaustive({.columns = 10, .rows = 14, .density = 0.3}, 1, 800);
  expect_as_exhaustive({.columns = 9, .rows = 30, .density = 0.25, .copy_share = 0.5}, 2, 400);
}

TEST(CoverAgainstExhaustiveSearch, SeveralTimes) {
  expect_as_exhaustive({.columns = 10, .rows = 8, .density = 0.5, .most_times = 3}, 3, 800);
  expect_as_exhaustive(
      {.columns = 10, .rows = 6, .density = 0.5, .most_times = 3, .copy_share = 0.8}, 4, 400);
}

TEST(CoverAgainstExhaustiveSearch, KeptColumns) {
  expect_as_exhaustive({.columns = 10, .rows = 10, .most_times = 2, .keep_share = 0.15}, 5, 500);
  expect_as_exhaustive({.columns = 9,
                        .rows = 8,
                        .most_times = 2,
                        .has_links = true,
                        .link_density = 0.25,
                        .keep_share = 0.2},
                       6, 800);
}

TEST(CoverAgainstExhaustiveSearch, SparseTies) {
  expect_as_exhaustive(
      {.columns = 10, .rows = 8, .density = 0.2, .has_links = true, .link_density = 0.2}, 7, 1000);
  expect_as_exhaustive({.columns = 11,
                        .rows = 9,
                        .density = 0.25,
                        .has_links = true,
                        .link_density = 0.25,
                        .copy_share = 0.5},
                       8, 600);
}

TEST(CoverAgainstExhaustiveSearch, TiesByGroups) {
  expect_as_exhaustive(
      {.columns = 10, .rows = 8, .has_links = true, .groups = 5, .link_density = 0.35}, 9, 800);
  expect_as_exhaustive({.columns = 10,
                        .rows = 8,
                        .density = 0.4,
                        .most_times = 3,
                        .has_links = true,
                        .groups = 4,
                        .link_density = 0.4,
                        .copy_share = 0.6},
                       10, 800);
}

TEST(CoverAgainstExhaustiveSearch, DenseTiesSeveralTimesKept) {
  expect_as_exhaustive({.columns = 10,
                        .rows = 9,
                        .density = 0.35,
                        .counted_share = 0.6,
                        .most_times = 3,
                        .has_links = true,
                        .link_density = 0.5,
                        .keep_share = 0.1,
                        .copy_share = 0.4},
                       11, 800);
}

TEST(CoverAgainstExhaustiveSearch, RowsThatColumnsCoverTogether) {
  expect_as_exhaustive({.columns = 9, .rows = 6, .density = 0.15, .shared_share = 0.6}, 13, 600);
  expect_as_exhaustive(
      {.columns = 11, .rows = 5, .density = 0.1, .shared_share = 1, .touch_density = 0.2}, 14, 300);
  expect_as_exhaustive({.columns = 10,
                        .rows = 8,
                        .density = 0.2,
                        .keep_share = 0.15,
                        .copy_share = 0.6,
                        .shared_share = 0.4},
                       15, 400);
}

/// Two columns that cover a row alone, by stylus, have all that two others have who share it by
/// full target. They do not stand for them: where they are chosen nobody shares the row.
TEST(CoverAgainstExhaustiveSearch, WhoCoversByStylusAloneDoesNotStandForWhoSharesFully) {
  PlainCover plain;
  plain.counts.assign(3, true);
  plain.covers = {
      {true, false, true}, {false, true, true}, {true, false, false}, {false, true, false}};
  plain.fully.assign(4, std::vector<bool>(3));
  plain.ways = {{2, true, {{true, true}, {true, true}, {true, false}, {false, true}}, {}, 2}};
  const CoverSolution solution = solve_cover(problem_from(plain), 100);
  EXPECT_EQ(solution.columns, (std::vector<std::uint32_t>{2, 3}));
  EXPECT_EQ(solution.full_rows, 1);
  EXPECT_EQ(worth_of(plain, solution.columns), exhaustive_cover(plain).worth);
}

TEST(CoverAgainstExhaustiveSearch, RowsCoveredTogetherByTiedColumns) {
  expect_as_exhaustive({.columns = 10,
                        .rows = 6,
                        .density = 0.15,
                        .has_links = true,
                        .link_density = 0.25,
                        .shared_share = 0.6},
                       16, 600);
  expect_as_exhaustive({.columns = 10,
                        .rows = 6,
                        .density = 0.15,
                        .has_links = true,
                        .groups = 5,
                        .link_density = 0.4,
                        .keep_share = 0.1,
                        .copy_share = 0.5,
                        .shared_share = 0.6,
                        .touch_density = 0.2},
                       17, 400);
}

TEST(CoverAgainstExhaustiveSearch, ColumnsThatDifferInCost) {
  const std::vector<double> costs{1, 2, 2.5, 4};
  expect_as_exhaustive({.columns = 10, .rows = 10, .density = 0.25, .costs = costs}, 18, 600);
  expect_as_exhaustive(
      {.columns = 10, .rows = 6, .density = 0.4, .most_times = 3, .costs = {0.5, 0.75, 1}}, 19,
      400);
  expect_as_exhaustive({.columns = 10,
                        .rows = 6,
                        .density = 0.2,
                        .has_links = true,
                        .link_density = 0.3,
                        .keep_share = 0.1,
                        .copy_share = 0.4,
                        .shared_share = 0.5,
                        .costs = costs},
                       20, 600);
}

/// Links along a line, as stations in a long aisle have them: chains that cover nothing are needed.
TEST(CoverAgainstExhaustiveSearch, TiesAlongAnAisle) {
  test::Draw draw(12);
  for (int i = 0; i < 600; ++i) {
    PlainCover plain =
        random_cover({.columns = 12, .rows = 5, .density = 0.15, .most_times = 2}, draw);
    plain.has_links = true;
    plain.groups_linked.assign(12, std::vector<bool>(12));
    for (std::uint32_t c = 0; c < 12; ++c) {
      plain.group_of.push_back(c);
      for (std::uint32_t d = c + 1; d < 12 && d <= c + 2; ++d) {
        plain.groups_linked[c][d] = plain.groups_linked[d][c] = d == c + 1 || draw.below(3) == 0;
      }
    }
    SCOPED_TRACE("seed 12 case " + std::to_string(i) + to_text(plain));
    const CoverSolution solution = solve_cover(problem_from(plain), 100);
    ASSERT_EQ(worth_of(plain, solution.columns), exhaustive_cover(plain).worth);
    ASSERT_TRUE(is_tied(plain, solution.columns));
    ASSERT_EQ(solution.status, CoverStatus::optimal);
  }
}

}  // namespace
}  // namespace standpoint
