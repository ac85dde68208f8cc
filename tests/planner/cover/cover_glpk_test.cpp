
#include <glpk.h>
#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/planner/cover/cover_oracle.h"

namespace standpoint {
namespace {

/// The three aims of a cover without ties by another solver (GNU Linear Programming Kit): first the
/// fewest columns, then the most full rows at that number.
class OtherSolver {
 public:
  explicit OtherSolver(const PlainCover& plain) : plain_(plain) {}

  int fewest() { return static_cast<int>(std::lround(solve(-1))); }
  int most_full(int count) { return static_cast<int>(std::lround(-solve(count))); }

 private:
  double solve(int count) {
    const auto columns = static_cast<int>(plain_.covers.size());
    const auto rows = static_cast<int>(plain_.counts.size());
    glp_prob* program = glp_create_prob();
    glp_set_obj_dir(program, GLP_MIN);
    glp_add_cols(program, columns + (count < 0 ? 0 : rows));
    for (int j = 1; j <= glp_get_num_cols(program); ++j) {
      glp_set_col_kind(program, j, GLP_BV);
      const bool is_row_variable = j > columns;
      glp_set_obj_coef(program, j, is_row_variable ? -1 : count < 0 ? 1 : 0);
    }
    for (const auto c : plain_.keep)
      glp_set_col_bnds(program, static_cast<int>(c) + 1, GLP_FX, 1, 1);
    for (int row = 0; row < rows; ++row) {
      add_row(program, row, false, 0);
      if (count >= 0) add_row(program, row, true, columns + 1 + row);
    }
    if (count >= 0) {
      std::vector<int> index{0};
      for (int j = 1; j <= columns; ++j) index.push_back(j);
      const std::vector<double> ones(index.size(), 1.0);
      const int i = glp_add_rows(program, 1);
      glp_set_row_bnds(program, i, GLP_FX, count, count);
      glp_set_mat_row(program, i, columns, index.data(), ones.data());
    }
    glp_term_out(GLP_OFF);
    glp_iocp options;
    glp_init_iocp(&options);
    options.msg_lev = GLP_MSG_OFF;
    options.presolve = GLP_ON;
    options.gmi_cuts = options.mir_cuts = options.clq_cuts = GLP_ON;
    EXPECT_EQ(glp_intopt(program, &options), 0);
    EXPECT_EQ(glp_mip_status(program), GLP_OPT);
    const double value = glp_mip_obj_val(program);
    glp_delete_prob(program);
    return value;
  }

  void add_row(glp_prob* program, int row, bool is_full, int row_variable) const {
    std::vector<int> index{0};
    std::vector<double> factor{0};
    for (std::size_t c = 0; c < plain_.covers.size(); ++c) {
      const auto r = static_cast<std::size_t>(row);
      if (is_full ? plain_.fully[c][r] : plain_.covers[c][r]) {
        index.push_back(static_cast<int>(c) + 1);
        factor.push_back(1);
      }
    }
    const int reach = static_cast<int>(index.size()) - 1;
    const bool counts = plain_.counts[static_cast<std::size_t>(row)];
    if (is_full) {
      index.push_back(row_variable);
      factor.push_back(-1);
    } else if (!counts || reach == 0) {
      return;
    }
    const int i = glp_add_rows(program, 1);
    glp_set_row_bnds(program, i, GLP_LO, is_full ? 0 : std::min(plain_.times, reach), 0);
    glp_set_mat_row(program, i, static_cast<int>(index.size()) - 1, index.data(), factor.data());
  }

  const PlainCover& plain_;
};

void expect_as_other_solver(std::uint64_t seed, int cases, std::size_t columns, std::size_t rows,
                            unsigned one_in, int times) {
  test::Draw draw(seed);
  for (int i = 0; i < cases; ++i) {
    PlainCover plain;
    plain.times = times;
    for (std::size_t row = 0; row < rows; ++row) plain.counts.push_back(draw.below(8) != 0);
    for (std::uint32_t c = 0; c < columns; ++c) {
      plain.covers.emplace_back(rows);
      plain.fully.emplace_back(rows);
      for (std::size_t row = 0; row < rows; ++row) {
        plain.covers[c][row] = draw.below(one_in) == 0;
        plain.fully[c][row] = plain.covers[c][row] && draw.below(3) != 0;
      }
      if (draw.below(40) == 0) plain.keep.push_back(c);
    }
    SCOPED_TRACE("seed " + std::to_string(seed) + " case " + std::to_string(i));
    const CoverSolution solution = solve_cover(problem_from(plain), 200);
    ASSERT_EQ(solution.status, CoverStatus::optimal);
    OtherSolver other(plain);
    const int fewest = other.fewest();
    ASSERT_EQ(static_cast<int>(solution.columns.size()), fewest);
    ASSERT_EQ(solution.lower_bound, fewest);
    const Worth worth = worth_of(plain, solution.columns);
    ASSERT_EQ(std::get<2>(worth), other.most_full(fewest));
    ASSERT_EQ(std::get<0>(worth), solution.covered);
  }
}

TEST(CoverAgainstAnotherSolver, ManyColumnsFewPerPlan) {
  expect_as_other_solver(31, 12, 60, 50, 4, 1);
}
TEST(CoverAgainstAnotherSolver, SparseRowsManyPerPlan) {
  expect_as_other_solver(32, 12, 50, 60, 12, 1);
}
TEST(CoverAgainstAnotherSolver, EveryRowTwice) {
  expect_as_other_solver(33, 12, 45, 40, 5, 2);
}

}  // namespace
}  // namespace standpoint
