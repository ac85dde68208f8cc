// A few rows: their exact cover against all sets of columns, and what they tell of a whole problem.

#include "planner/cover/cover_few_rows.h"

#include <gtest/gtest.h>

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_cost.h"
#include "planner/cover/cover_telling_rows.h"
#include "tests/draw.h"
#include "tests/planner/cover/cover_oracle.h"

namespace standpoint {
namespace {

constexpr int kNothing = 1000000;
const std::function<bool()> kNeverStopped;

/// Rows and costs of columns drawn at random; each row asks for no more columns than have it.
struct Drawn {
  std::vector<RowNeed> rows;
  std::vector<int> cost;

  [[nodiscard]] std::vector<const RowNeed*> pointers() const {
    std::vector<const RowNeed*> list;
    for (const RowNeed& row : rows) list.push_back(&row);
    return list;
  }
};

Drawn drawn(test::Draw& draw, std::size_t columns, int greatest_cost, int greatest_need) {
  Drawn result;
  const double density = draw.between(0.1, 0.5);
  for (std::size_t c = 0; c < columns; ++c)
    result.cost.push_back(1 +
                          static_cast<int>(draw.below(static_cast<std::size_t>(greatest_cost))));
  const std::size_t rows = 1 + draw.below(12);
  for (std::size_t r = 0; r < rows; ++r) {
    RowNeed row{std::vector<BitWord>(words_for(columns), 0), 0, 1};
    for (std::size_t c = 0; c < columns; ++c) {
      if (!draw.chance(density)) continue;
      set_bit(row.columns, c);
      ++row.size;
    }
    if (row.size == 0) continue;
    row.need = 1 + static_cast<int>(
                       draw.below(std::min(row.size, static_cast<std::size_t>(greatest_need))));
    result.rows.push_back(std::move(row));
  }
  return result;
}

/// Whether the set, a bit for each column, meets all rows.
bool meets(const Drawn& problem, std::uint32_t set) {
  for (const RowNeed& row : problem.rows) {
    int times = 0;
    for (std::size_t c = 0; c < problem.cost.size(); ++c)
      times += has_bit(row.columns, c) && (set >> c & 1U) != 0 ? 1 : 0;
    if (times < row.need) return false;
  }
  return true;
}

int cheapest_of_all_sets(const Drawn& problem) {
  int least = kNothing;
  for (std::uint32_t set = 0; set < 1U << problem.cost.size(); ++set) {
    int cost = 0;
    for (std::size_t c = 0; c < problem.cost.size(); ++c)
      cost += (set >> c & 1U) != 0 ? problem.cost[c] : 0;
    if (cost < least && meets(problem, set)) least = cost;
  }
  return least;
}

void expect_found(const Drawn& problem, const FewRows::Answer& answer, int least) {
  ASSERT_EQ(answer.state, FewRows::State::found);
  std::uint32_t set = 0;
  int cost = 0;
  for (const std::uint32_t c : answer.columns) {
    set |= 1U << c;
    cost += problem.cost[c];
  }
  EXPECT_TRUE(meets(problem, set));
  EXPECT_EQ(cost, answer.cost);
  EXPECT_EQ(answer.cost, least);
}

TEST(FewRows, CostWhatTheCheapestOfAllSetsDoes) {
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    const Drawn problem = drawn(draw, 11, seed % 2 == 0 ? 1 : 7, seed % 3 == 0 ? 3 : 1);
    const int least = cheapest_of_all_sets(problem);
    ASSERT_LT(least, kNothing);
    const auto rows = problem.pointers();
    const FewRows few(rows, problem.cost);
    long long steps = 1000000;
    expect_found(problem, few.cheapest(0, kNothing, steps), least);
    expect_found(problem, few.cheapest(0, least + 1, steps), least);
    EXPECT_EQ(few.cheapest(0, least, steps).state, FewRows::State::none);
    if (seed % 10 != 0) continue;
    expect_found(problem, few.cheapest_by_solver(0, kNothing, 100), least);
    EXPECT_EQ(few.cheapest_by_solver(0, least, 100).state, FewRows::State::none);
  }
}

TEST(FewRows, WithoutEnoughStepsNothingIsSaid) {
  test::Draw draw(1);
  Drawn problem = drawn(draw, 11, 1, 1);
  while (cheapest_of_all_sets(problem) < 3) problem = drawn(draw, 11, 1, 1);
  const auto rows = problem.pointers();
  long long steps = 1;
  EXPECT_EQ(FewRows(rows, problem.cost).cheapest(0, kNothing, steps).state,
            FewRows::State::given_up);
}

/// A hall in small: places on a ring that see what is near them, so that more columns than are
/// needed have nearly equal rows. No ties.
CoverProblem ring(std::size_t columns, std::size_t rows, double reach, test::Draw& draw) {
  CoverProblem problem;
  problem.rows = rows;
  problem.counts.assign(rows, true);
  std::vector<double> at;
  for (std::size_t r = 0; r < rows; ++r) at.push_back(draw.between(0, 1));
  for (std::size_t c = 0; c < columns; ++c) {
    const double place = static_cast<double>(c) / static_cast<double>(columns);
    problem.covers.emplace_back();
    for (std::uint32_t r = 0; r < rows; ++r) {
      const double apart = std::abs(at[r] - place);
      if (std::min(apart, 1 - apart) < reach) problem.covers.back().push_back(r);
    }
  }
  problem.fully = problem.covers;
  return problem;
}

TEST(TellingRows, ProveTheCountOfAHallByAFewOfItsFeatures) {
  test::Draw draw(5);
  const CoverProblem problem = ring(600, 400, 0.09, draw);
  const CostSteps cost({}, problem.covers.size());
  Columns all(problem.covers.size());
  for (std::uint32_t c = 0; c < all.size(); ++c) all[c] = c;
  const CoverCore core = make_core(problem, cost.of, all, std::nullopt);
  CoverBudget budget(100, kNeverStopped);
  const TellingRows told = bound_by_telling_rows(core, 1, 400, budget);
  const CoverSolution solution = solve_cover(problem, 100);
  ASSERT_EQ(solution.status, CoverStatus::optimal);
  EXPECT_EQ(told.bound, static_cast<int>(solution.columns.size()));
  ASSERT_TRUE(told.better);
  EXPECT_TRUE(is_enough(core, *told.better));
  EXPECT_EQ(cost_of(core, *told.better), told.bound);
  EXPECT_LT(told.rows, 100u);  // of 400
  // One less is refuted, and nothing is found.
  const TellingRows refuted = bound_by_telling_rows(core, 1, told.bound, budget);
  EXPECT_EQ(refuted.bound, told.bound);
  EXPECT_FALSE(refuted.better);
}

/// By itself, without the programs that follow, it is never above the least cost of all sets.
TEST(TellingRows, NeverClaimMoreThanTheCheapestOfAllSets) {
  int proven = 0;
  for (std::uint64_t seed = 1; seed <= 600; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    PlainCover plain;
    plain.counts.assign(9, true);
    plain.times = seed % 3 == 0 ? 2 : 1;
    for (std::uint32_t c = 0; c < 10; ++c) {
      plain.covers.emplace_back();
      for (std::size_t r = 0; r < 9; ++r) plain.covers.back().push_back(draw.chance(0.25));
      if (draw.chance(0.1)) plain.keep.push_back(c);
      if (seed % 2 == 0) plain.cost.push_back(static_cast<double>(1 + draw.below(5)));
    }
    plain.fully = plain.covers;
    const CoverProblem problem = problem_from(plain);
    const CostSteps cost(problem.cost, problem.covers.size());
    const CoverCore core =
        make_core(problem, cost.of, {0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, std::nullopt);
    const auto least =
        static_cast<int>(std::lround(-std::get<1>(exhaustive_cover(plain).worth) / cost.step));
    CoverBudget budget(100, kNeverStopped);
    const TellingRows told = bound_by_telling_rows(core, 0, kNothing, budget);
    ASSERT_LE(told.bound, least);
    if (told.better) {
      ASSERT_TRUE(is_enough(core, *told.better));
      ASSERT_GE(cost_of(core, *told.better), least);
    }
    proven += told.bound == least ? 1 : 0;
  }
  EXPECT_EQ(proven, 600);
}

}  // namespace
}  // namespace standpoint
