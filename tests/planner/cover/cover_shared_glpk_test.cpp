// Rows that columns cover together, against another solver (GNU Linear Programming Kit) on a model
// with a variable for each touch.

#include <map>

#include <glpk.h>
#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/planner/cover/cover_oracle.h"

namespace standpoint {
namespace {

/// A program over variables that are 0 or 1.
class Glpk {
 public:
  Glpk() : program_(glp_create_prob()) { glp_set_obj_dir(program_, GLP_MIN); }
  ~Glpk() { glp_delete_prob(program_); }
  Glpk(const Glpk&) = delete;
  Glpk& operator=(const Glpk&) = delete;

  using Sum = std::map<int, double>;  ///< variable to factor

  int variable(double cost) {
    const int j = glp_add_cols(program_, 1);
    glp_set_col_kind(program_, j, GLP_BV);
    glp_set_obj_coef(program_, j, cost);
    return j;
  }
  void set_cost(int variable, double cost) { glp_set_obj_coef(program_, variable, cost); }
  void fix_to_one(int variable) { glp_set_col_bnds(program_, variable, GLP_FX, 1, 1); }
  void at_least(const Sum& sum, double low) { add(sum, GLP_LO, low); }
  void equal(const Sum& sum, double value) { add(sum, GLP_FX, value); }

  int least() {
    glp_term_out(GLP_OFF);
    glp_iocp options;
    glp_init_iocp(&options);
    options.msg_lev = GLP_MSG_OFF;
    options.presolve = GLP_ON;
    options.gmi_cuts = options.mir_cuts = options.clq_cuts = GLP_ON;
    EXPECT_EQ(glp_intopt(program_, &options), 0);
    EXPECT_EQ(glp_mip_status(program_), GLP_OPT);
    return static_cast<int>(std::lround(glp_mip_obj_val(program_)));
  }

 private:
  void add(const Sum& sum, int kind, double bound) {
    std::vector<int> index{0};
    std::vector<double> factor{0};
    for (const auto& [variable, by] : sum) {
      index.push_back(variable);
      factor.push_back(by);
    }
    const int i = glp_add_rows(program_, 1);
    glp_set_row_bnds(program_, i, kind, bound, bound);
    glp_set_mat_row(program_, i, static_cast<int>(index.size()) - 1, index.data(), factor.data());
  }

  glp_prob* program_;
};

/// The model of a cover without ties, whose ways are decided by count.
class TouchModel {
 public:
  explicit TouchModel(const PlainCover& plain) : plain_(plain) {
    for (std::size_t c = 0; c < plain.covers.size(); ++c) x_.push_back(glpk_.variable(cost(c)));
    for (const auto c : plain.keep) glpk_.fix_to_one(x_[c]);
    for (std::size_t row = 0; row < plain.counts.size(); ++row) {
      Glpk::Sum covered = sum_of(plain.covers, row);
      for (const PlainWay& way : plain.ways)
        if (way.row == row && can_be_taken(way)) covered[taken(way)] = 1;
      if (plain.counts[row] && !covered.empty()) glpk_.at_least(covered, 1);
    }
  }

  int cheapest() { return glpk_.least(); }

  /// At this cost.
  int most_full(int at_cost) {
    Glpk::Sum costs;
    for (std::size_t c = 0; c < x_.size(); ++c) {
      costs[x_[c]] = cost(c);
      glpk_.set_cost(x_[c], 0);
    }
    glpk_.equal(costs, at_cost);
    for (std::size_t row = 0; row < plain_.counts.size(); ++row) ask_for_full(row);
    return -glpk_.least();
  }

 private:
  [[nodiscard]] double cost(std::size_t c) const {
    return plain_.cost.empty() ? 1 : plain_.cost[c];
  }

  Glpk::Sum sum_of(const std::vector<std::vector<bool>>& table, std::size_t row) const {
    Glpk::Sum sum;
    for (std::size_t c = 0; c < table.size(); ++c)
      if (table[c][row]) sum[x_[c]] = 1;
    return sum;
  }

  static bool can_be_taken(const PlainWay& way) {
    std::size_t touches = 0;
    for (std::size_t t = 0; t < way.taken.front().size(); ++t)
      touches += std::any_of(way.taken.begin(), way.taken.end(),
                             [&](const auto& taken) { return taken[t]; })
                     ? 1
                     : 0;
    return touches >= way.count;
  }

  /// A variable that may be 1 only where the chosen columns have enough touches of the way.
  int taken(const PlainWay& way) {
    const int is_taken = glpk_.variable(0);
    Glpk::Sum count{{is_taken, -static_cast<double>(way.count)}};
    for (std::size_t t = 0; t < way.taken.front().size(); ++t) {
      const int is_had = glpk_.variable(0);
      Glpk::Sum has{{is_had, -1}};
      for (std::size_t c = 0; c < x_.size(); ++c)
        if (way.taken[c][t]) has[x_[c]] = 1;
      glpk_.at_least(has, 0);
      count[is_had] = 1;
    }
    glpk_.at_least(count, 0);
    return is_taken;
  }

  /// Full is a row that a chosen column covers fully alone; or where none covers it alone, and they
  /// take it by a full way together.
  void ask_for_full(std::size_t row) {
    const int is_full = glpk_.variable(-1);
    Glpk::Sum reasons = sum_of(plain_.fully, row);
    const int is_together = glpk_.variable(0);
    reasons[is_together] = 1;
    reasons[is_full] = -1;
    glpk_.at_least(reasons, 0);
    Glpk::Sum ways{{is_together, -1}};
    for (const PlainWay& way : plain_.ways)
      if (way.row == row && way.is_full) ways[taken(way)] = 1;
    glpk_.at_least(ways, 0);
    for (std::size_t c = 0; c < x_.size(); ++c)
      if (plain_.covers[c][row]) glpk_.at_least({{is_together, -1}, {x_[c], -1}}, -1);
  }

  const PlainCover& plain_;
  Glpk glpk_;
  std::vector<int> x_;
};

/// Columns that have some rows alone, and of the other rows some touches by one or two ways.
PlainCover drawn(test::Draw& draw, std::size_t columns, std::size_t rows, double density,
                 double touch_density, bool has_costs) {
  PlainCover plain;
  for (std::size_t row = 0; row < rows; ++row) plain.counts.push_back(draw.below(8) != 0);
  for (std::uint32_t c = 0; c < columns; ++c) {
    plain.covers.emplace_back(rows);
    plain.fully.emplace_back(rows);
    for (std::size_t row = 0; row < rows; ++row) {
      plain.covers[c][row] = draw.chance(density);
      plain.fully[c][row] = plain.covers[c][row] && draw.chance(0.6);
    }
    if (draw.below(40) == 0) plain.keep.push_back(c);
    if (has_costs) plain.cost.push_back(static_cast<double>(1 + draw.below(4)));
  }
  for (std::size_t row = 0; row < rows; row += 2) {
    const std::size_t touches = 4 + draw.below(6), count = 3 + draw.below(touches - 3);
    for (std::size_t w = 0; w < 1 + row % 4 / 2; ++w) {
      PlainWay way{row, w == 0, {}, {}, count};
      for (std::size_t c = 0; c < columns; ++c) {
        way.taken.emplace_back(touches);
        for (std::size_t t = 0; t < touches; ++t) way.taken[c][t] = draw.chance(touch_density);
        if (!way.is_enough(way.taken[c])) continue;
        plain.covers[c][row] = true;
        plain.fully[c][row] = plain.fully[c][row] || way.is_full;
      }
      plain.ways.push_back(way);
    }
  }
  return plain;
}

void expect_as_other_solver(std::uint64_t seed, int cases, std::size_t columns, std::size_t rows,
                            double density, double touch_density, bool has_costs) {
  int together = 0;  // rows that the solutions cover only together: the point of the test
  test::Draw draw(seed);
  for (int i = 0; i < cases; ++i) {
    SCOPED_TRACE("seed " + std::to_string(seed) + " case " + std::to_string(i));
    const PlainCover plain = drawn(draw, columns, rows, density, touch_density, has_costs);
    const CoverSolution solution = solve_cover(problem_from(plain), 200);
    ASSERT_EQ(solution.status, CoverStatus::optimal);
    TouchModel model(plain);
    const int least = model.cheapest();
    ASSERT_EQ(solution.cost, least);
    ASSERT_EQ(solution.lower_bound, least);
    const auto [covered, minus_cost, full] = worth_of(plain, solution.columns);
    ASSERT_EQ(covered, solution.covered);
    ASSERT_EQ(-minus_cost, least);
    ASSERT_EQ(full, model.most_full(least));
    for (std::size_t row = 0; row < rows; ++row) {
      const bool is_alone = std::any_of(solution.columns.begin(), solution.columns.end(),
                                        [&](std::uint32_t c) { return plain.covers[c][row]; });
      const bool is_shared =
          std::any_of(plain.ways.begin(), plain.ways.end(), [&](const PlainWay& way) {
            return way.row == row && take_together(way, solution.columns);
          });
      together += plain.counts[row] && !is_alone && is_shared ? 1 : 0;
    }
  }
  EXPECT_GT(together, cases);
}

TEST(SharedCoverAgainstAnotherSolver, ManyRowsThatNobodyHasAlone) {
  expect_as_other_solver(41, 12, 30, 24, 0.12, 0.15, false);
}
TEST(SharedCoverAgainstAnotherSolver, FewTouchesEach) {
  expect_as_other_solver(42, 10, 24, 16, 0.08, 0.1, false);
}
TEST(SharedCoverAgainstAnotherSolver, ColumnsThatDifferInCost) {
  expect_as_other_solver(43, 12, 30, 24, 0.12, 0.15, true);
}

}  // namespace
}  // namespace standpoint
