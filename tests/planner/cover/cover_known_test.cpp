#include <array>

#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/planner/cover/cover_oracle.h"

namespace standpoint {
namespace {

using Triple = std::array<std::uint32_t, 3>;

/// Steiner triple systems built by tripling (Fulkerson, Nemhauser & Trotter, Mathematical
/// Programming Study 2, 1974): each point three times; a triple of the three copies of each point,
/// the old triples within each copy, and each old triple spread over the three copies in all six
/// ways.
std::vector<Triple> tripled(const std::vector<Triple>& system, std::uint32_t points) {
  std::vector<Triple> result;
  for (std::uint32_t p = 0; p < points; ++p) result.push_back({p, points + p, 2 * points + p});
  for (const auto& [a, b, c] : system) {
    for (std::uint32_t copy = 0; copy < 3; ++copy) {
      result.push_back({a + copy * points, b + copy * points, c + copy * points});
    }
    std::array<std::uint32_t, 3> copies{0, 1, 2};
    do {
      result.push_back({a + copies[0] * points, b + copies[1] * points, c + copies[2] * points});
    } while (std::next_permutation(copies.begin(), copies.end()));
  }
  return result;
}

/// The system of fifteen points as three copies of the residues mod 5 (Bose's construction): the
/// copies of a residue; and x, y of one copy with (x + y) / 2 of the next.
std::vector<Triple> fifteen() {
  std::vector<Triple> result;
  for (std::uint32_t x = 0; x < 5; ++x) result.push_back({x, 5 + x, 10 + x});
  for (std::uint32_t copy = 0; copy < 3; ++copy) {
    for (std::uint32_t x = 0; x < 5; ++x) {
      for (std::uint32_t y = x + 1; y < 5; ++y) {
        const std::uint32_t half = (x + y) * 3 % 5;
        result.push_back({5 * copy + x, 5 * copy + y, 5 * ((copy + 1) % 3) + half});
      }
    }
  }
  return result;
}

/// Rows: the triples; columns: the points.
CoverProblem covering(const std::vector<Triple>& system, std::uint32_t points) {
  CoverProblem problem;
  problem.rows = system.size();
  problem.counts.assign(problem.rows, true);
  problem.covers.resize(points);
  problem.fully.resize(points);
  for (std::uint32_t row = 0; row < system.size(); ++row) {
    for (const std::uint32_t point : system[row]) problem.covers[point].push_back(row);
  }
  return problem;
}

void expect_steiner(const std::vector<Triple>& system, std::uint32_t points) {
  std::vector<int> times(points * points, 0);
  for (const auto& triple : system) {
    for (const auto a : triple) {
      for (const auto b : triple) times[a * points + b] += a != b;
    }
  }
  for (std::uint32_t a = 0; a < points; ++a) {
    for (std::uint32_t b = 0; b < points; ++b) ASSERT_EQ(times[a * points + b], a == b ? 0 : 1);
  }
}

void expect_least(const std::vector<Triple>& system, std::uint32_t points, int least) {
  expect_steiner(system, points);
  const CoverSolution solution = solve_cover(covering(system, points), 900);
  EXPECT_EQ(solution.status, CoverStatus::optimal);
  EXPECT_EQ(static_cast<int>(solution.columns.size()), least);
  EXPECT_EQ(solution.lower_bound, least);
  EXPECT_EQ(solution.covered, static_cast<int>(system.size()));
}

const std::vector<Triple> kThree{{0, 1, 2}};

// Least covers 5, 9, 18, 30: Fulkerson, Nemhauser & Trotter (1974).
TEST(CoverOfSteinerTriples, NineTakeFive) {
  expect_least(tripled(kThree, 3), 9, 5);
}
TEST(CoverOfSteinerTriples, FifteenTakeNine) {
  expect_least(fifteen(), 15, 9);
}
TEST(CoverOfSteinerTriples, TwentySevenTakeEighteen) {
  expect_least(tripled(tripled(kThree, 3), 9), 27, 18);
}
TEST(CoverOfSteinerTriples, FortyFiveTakeThirty) {
  expect_least(tripled(fifteen(), 15), 45, 30);
}

/// Columns on a grid of side x side, linked with their neighbours; each corner sees a row of its
/// own.
PlainCover grid_with_corners(std::uint32_t side) {
  PlainCover plain;
  const std::uint32_t n = side * side;
  plain.counts.assign(4, true);
  plain.covers.assign(n, std::vector<bool>(4));
  plain.fully = plain.covers;
  plain.covers[0][0] = plain.covers[side - 1][1] = true;
  plain.covers[n - side][2] = plain.covers[n - 1][3] = true;
  plain.has_links = true;
  plain.groups_linked.assign(n, std::vector<bool>(n));
  for (std::uint32_t a = 0; a < n; ++a) {
    plain.group_of.push_back(a);
    for (std::uint32_t b = 0; b < n; ++b) {
      const int dx = std::abs(static_cast<int>(a % side) - static_cast<int>(b % side));
      const int dy = std::abs(static_cast<int>(a / side) - static_cast<int>(b / side));
      plain.groups_linked[a][b] = dx + dy == 1;
    }
  }
  return plain;
}

// A shortest tree of grid steps over the corners of a square of side L has length 3 L (first
// principles: both cuts across each of the L columns and rows take at least one step, and a comb of
// 3 L does it; less would leave a corner out), so 3 L + 1 places.
TEST(CoverWithTies, CornersOfAGridAreTiedByAShortestTree) {
  for (const std::uint32_t side : {2U, 3U, 4U, 5U}) {
    const PlainCover plain = grid_with_corners(side);
    const CoverSolution solution = solve_cover(problem_from(plain), 100);
    EXPECT_EQ(solution.status, CoverStatus::optimal) << side;
    EXPECT_EQ(solution.columns.size(), 3 * (side - 1) + 1) << side;
    EXPECT_TRUE(is_tied(plain, solution.columns)) << side;
  }
}

TEST(CoverWithTies, RingIsTiedTheShorterWay) {
  PlainCover plain;
  plain.counts = {true, true};
  plain.covers.assign(31, {false, false});
  plain.fully = plain.covers;
  plain.covers[0][0] = plain.covers[13][1] = true;
  plain.has_links = true;
  plain.groups_linked.assign(31, std::vector<bool>(31));
  for (std::uint32_t c = 0; c < 31; ++c) {
    plain.group_of.push_back(c);
    plain.groups_linked[c][(c + 1) % 31] = plain.groups_linked[(c + 1) % 31][c] = true;
  }
  const CoverSolution solution = solve_cover(problem_from(plain), 100);
  std::vector<std::uint32_t> expected(14);
  std::iota(expected.begin(), expected.end(), 0U);
  EXPECT_EQ(solution.columns, expected);
  EXPECT_EQ(solution.status, CoverStatus::optimal);
}

/// Four columns in a chain 0-1-2-3, one row at either end, both by one column that is tied to
/// nothing.
TEST(CoverWithTies, TheFewestTiedColumnsCanBeMoreThanTheFewest) {
  PlainCover plain;
  plain.counts = {true, true, true};
  plain.covers = {{true, false, false},
                  {false, false, false},
                  {false, false, true},
                  {false, true, false},
                  {true, true, false}};
  plain.fully = plain.covers;
  plain.has_links = true;
  plain.group_of = {0, 1, 2, 3, 4};
  plain.groups_linked.assign(5, std::vector<bool>(5));
  for (const std::uint32_t c : {0U, 1U, 2U}) {
    plain.groups_linked[c][c + 1] = plain.groups_linked[c + 1][c] = true;
  }
  const CoverSolution tied = solve_cover(problem_from(plain), 100);
  EXPECT_EQ(tied.columns, (std::vector<std::uint32_t>{0, 1, 2, 3}));
  CoverProblem untied = problem_from(plain);
  untied.links.reset();
  EXPECT_EQ(solve_cover(untied, 100).columns, (std::vector<std::uint32_t>{2, 4}));
}

/// Two groups of columns without a link: the one that covers more wins although it takes more
/// columns.
TEST(CoverWithTies, CoverageComesBeforeTheNumberOfColumns) {
  PlainCover plain;
  plain.counts = {true, true, true, true};
  plain.covers = {{true, true, true, false},   // alone in its part
                  {true, true, false, false},  // these three are tied
                  {false, false, true, false},
                  {false, false, false, true}};
  plain.fully = plain.covers;
  plain.has_links = true;
  plain.group_of = {0, 1, 1, 1};
  plain.groups_linked = {{true, false}, {false, true}};
  const CoverSolution solution = solve_cover(problem_from(plain), 100);
  EXPECT_EQ(solution.covered, 4);
  EXPECT_EQ(solution.columns, (std::vector<std::uint32_t>{1, 2, 3}));
}

TEST(CoverWithTies, PartsOfEqualCoverageCompeteInColumnsThenFullRows) {
  PlainCover plain;
  plain.counts = {true, true};
  plain.covers = {{true, false}, {false, true}, {true, true}, {true, true}, {true, true}};
  plain.fully = {{true, false}, {false, true}, {true, false}, {true, true}, {false, false}};
  plain.has_links = true;
  plain.group_of = {0, 0, 1, 2, 2};  // columns 0 and 1 are tied; the others stand alone
  plain.groups_linked = {{true, false, false}, {false, true, false}, {false, false, false}};
  const CoverSolution solution = solve_cover(problem_from(plain), 100);
  EXPECT_EQ(solution.columns, (std::vector<std::uint32_t>{3}));
  EXPECT_EQ(solution.full_rows, 2);
}

TEST(Cover, NothingToCoverTakesNoColumn) {
  CoverProblem problem;
  EXPECT_TRUE(solve_cover(problem, 1).columns.empty());
  problem.rows = 2;
  problem.counts = {true, false};
  problem.covers = {{1}, {}};
  problem.fully = {{1}, {}};
  const CoverSolution solution = solve_cover(problem, 1);
  EXPECT_TRUE(solution.columns.empty());
  EXPECT_EQ(solution.status, CoverStatus::optimal);
  EXPECT_EQ(solution.lower_bound, 0);
}

TEST(Cover, KeptColumnsThatNoChainTiesAreKeptUntied) {
  PlainCover plain;
  plain.counts = {true, true, true};
  plain.covers = {{true, false, false}, {false, true, false}, {false, false, true}};
  plain.fully = plain.covers;
  plain.keep = {0, 1};
  plain.has_links = true;
  plain.group_of = {0, 1, 2};
  plain.groups_linked.assign(3, std::vector<bool>(3));
  const CoverSolution solution = solve_cover(problem_from(plain), 100);
  EXPECT_FALSE(solution.keep_tied);
  EXPECT_EQ(solution.columns, (std::vector<std::uint32_t>{0, 1, 2}));
}

TEST(CoverUnderATimeLimit, NoTimeGivesACoverAndAnHonestBound) {
  const auto system = tripled(fifteen(), 15);
  const CoverSolution solution = solve_cover(covering(system, 45), 0);
  EXPECT_EQ(solution.status, CoverStatus::feasible);
  EXPECT_EQ(solution.covered, 330);
  EXPECT_GE(solution.columns.size(), 30U);
  EXPECT_LE(solution.lower_bound, 30);
  EXPECT_GE(solution.lower_bound, 15);  // a point covers 22 of 330 triples
}

TEST(CoverUnderATimeLimit, ShortTimesGiveBoundsThatHold) {
  const auto system = tripled(fifteen(), 15);
  for (const double seconds : {0.05, 0.4, 1.5}) {
    const CoverSolution solution = solve_cover(covering(system, 45), seconds);
    EXPECT_GE(solution.columns.size(), 30U) << seconds;
    EXPECT_LE(solution.lower_bound, 30) << seconds;
    EXPECT_EQ(solution.status == CoverStatus::optimal,
              solution.lower_bound == static_cast<int>(solution.columns.size()))
        << seconds;
  }
}

TEST(CoverUnderATimeLimit, WhatNeedsNoProgramIsProvenInNoTime) {
  PlainCover plain;  // column 1 covers all; of those that do it has the most full rows
  plain.counts.assign(6, true);
  plain.covers.assign(4, std::vector<bool>(6, true));
  plain.fully.assign(4, std::vector<bool>(6, false));
  plain.fully[1][3] = plain.fully[1][4] = plain.fully[2][5] = true;
  plain.covers[3][0] = false;
  plain.fully[3].assign(6, true);
  plain.fully[3][0] = false;
  const CoverSolution solution = solve_cover(problem_from(plain), 1e9);
  EXPECT_EQ(solution.columns, (std::vector<std::uint32_t>{1}));
  EXPECT_EQ(solution.full_rows, 2);
  const CoverSolution at_once = solve_cover(problem_from(plain), 0);
  EXPECT_EQ(at_once.lower_bound, 1);
  EXPECT_EQ(at_once.columns.size(), 1U);
}

TEST(CoverUnderATimeLimit, InterruptionGivesTheBestKnown) {
  const auto system = tripled(fifteen(), 15);
  const CoverSolution solution = solve_cover(covering(system, 45), 100, [] { return true; });
  EXPECT_EQ(solution.status, CoverStatus::interrupted);
  EXPECT_EQ(solution.covered, 330);
  EXPECT_LE(solution.lower_bound, 30);
}

PlainCover scattered(std::uint64_t seed, std::size_t columns, std::size_t rows) {
  test::Draw draw(seed);
  PlainCover plain;
  plain.has_links = true;
  plain.groups_linked.assign(columns, std::vector<bool>(columns));
  plain.counts.assign(rows, true);
  for (std::uint32_t c = 0; c < columns; ++c) {
    plain.group_of.push_back(c);
    plain.covers.emplace_back(rows);
    plain.fully.emplace_back(rows);
    for (std::size_t row = 0; row < rows; ++row) {
      plain.covers[c][row] = draw.below(6) == 0;
      plain.fully[c][row] = plain.covers[c][row] && draw.below(2) == 0;
    }
    for (std::uint32_t d = 0; d < c; ++d) {
      plain.groups_linked[c][d] = plain.groups_linked[d][c] = draw.below(4) == 0;
    }
  }
  return plain;
}

TEST(Cover, TheOrderOfColumnsAndRowsChangesNoAim) {
  const PlainCover plain = scattered(21, 40, 30);
  const CoverSolution solution = solve_cover(problem_from(plain), 100);
  EXPECT_EQ(solution.status, CoverStatus::optimal);
  test::Draw draw(22);
  for (int i = 0; i < 5; ++i) {
    std::vector<std::size_t> column(40), row(30);
    std::iota(column.begin(), column.end(), std::size_t{0});
    std::iota(row.begin(), row.end(), std::size_t{0});
    draw.shuffle(column);
    draw.shuffle(row);
    PlainCover moved = plain;
    for (std::size_t c = 0; c < 40; ++c) {
      moved.group_of[c] = plain.group_of[column[c]];
      for (std::size_t r = 0; r < 30; ++r) {
        moved.covers[c][r] = plain.covers[column[c]][row[r]];
        moved.fully[c][r] = plain.fully[column[c]][row[r]];
      }
    }
    const CoverSolution again = solve_cover(problem_from(moved), 100);
    EXPECT_EQ(worth_of(moved, again.columns), worth_of(plain, solution.columns)) << "case " << i;
    EXPECT_TRUE(is_tied(moved, again.columns)) << "case " << i;
  }
}

TEST(Cover, TheSameProblemGivesTheSameSolutionAndPrintsNothing) {
  const CoverProblem problem = problem_from(scattered(23, 40, 30));
  testing::internal::CaptureStdout();
  testing::internal::CaptureStderr();
  const CoverSolution first = solve_cover(problem, 100);
  const CoverSolution second = solve_cover(problem, 100);
  const CoverSolution stopped = solve_cover(covering(tripled(fifteen(), 15), 45), 0.3);
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
  EXPECT_EQ(first.columns, second.columns);
  EXPECT_GE(stopped.columns.size(), 30U);
}

#ifndef NDEBUG
TEST(CoverDeathTest, BrokenProblemsAssert) {
  CoverProblem good;
  good.rows = 3;
  good.counts.assign(3, true);
  good.covers = {{0, 1}, {2}};
  good.fully = {{1}, {}};
  EXPECT_EQ(solve_cover(good, 10).columns.size(), 2U);
  const auto dies = [&](auto&& change) {
    CoverProblem bad = good;
    change(bad);
    EXPECT_DEATH(static_cast<void>(solve_cover(bad, 10)), "Assertion");
  };
  dies([](CoverProblem& p) { p.covers[0] = {1, 0}; });              // not ascending
  dies([](CoverProblem& p) { p.covers[1] = {3}; });                 // no such row
  dies([](CoverProblem& p) { p.fully[1] = {0}; });                  // full but not covered
  dies([](CoverProblem& p) { p.counts.pop_back(); });               // a row without its flag
  dies([](CoverProblem& p) { p.times = 0; });                       // nothing asked
  dies([](CoverProblem& p) { p.keep = {2}; });                      // no such column
  dies([](CoverProblem& p) { p.keep = {1, 1}; });                   // kept twice
  dies([](CoverProblem& p) { p.links.emplace().group_of = {0}; });  // a column without a group
  dies([](CoverProblem& p) {                                        // a link one way only
    p.links.emplace().group_of = {0, 1};
    p.links->linked = BitMatrix(2, 2);
    set_bit(p.links->linked[0], 1);
  });
}
#endif

}  // namespace
}  // namespace standpoint
