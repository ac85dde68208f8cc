#include "planner/setup/row_tests.h"

#include <Eigen/Eigenvalues>
#include <cmath>

#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

/// What a set of rows says of one unknown more.
struct SlipSums {
  double residual = 0;          ///< c^T l
  double own = 0;               ///< c^T c
  Vec6 by_pose = Vec6::Zero();  ///< J^T c

  void add(const WeightedRow& row) {
    residual += row.by_radius.dot(row.left);
    own += row.by_radius.squaredNorm();
    by_pose += row.by_motion.transpose() * row.by_radius;
  }
};

OffsetRun run_with(const PartFit& fit, const SlipSums& sums) {
  OffsetRun run;
  const double seen = sums.own - sums.by_pose.dot(fit.cofactor * sums.by_pose);
  if (!(seen > tolerance::kHeldFast * sums.own)) return run;
  run.larger = sums.residual / seen;
  run.standard = 1 / std::sqrt(seen);
  run.drop = sums.residual * sums.residual / seen;
  return run;
}

RowTest test_of(const WeightedRow& row, const Mat6& cofactor) {
  RowTest test;
  const int count = row.misfit.count;
  const Eigen::MatrixXd motion = row.by_motion.topRows(count);
  const Eigen::MatrixXd checked =
      Eigen::MatrixXd::Identity(count, count) - motion * cofactor * motion.transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(checked);
  if (eigen.eigenvalues()[0] < tolerance::kHeldFast) return test;
  test.freedoms = count;
  const Eigen::VectorXd left = row.left.head(count);
  const Eigen::VectorXd parts = eigen.eigenvectors().transpose() * left;
  const Eigen::VectorXd error =
      eigen.eigenvectors() * (parts.array() / eigen.eigenvalues().array()).matrix();
  test.drop = left.dot(error);
  Vec3 whole = Vec3::Zero();
  whole.head(count) = error;
  test.off = row.misfit.held.transpose() * (row.root * whole);
  return test;
}

}  // namespace

std::vector<RowTest> row_tests(const PartFitInput& input, const PartFit& fit) {
  std::vector<RowTest> tests(fit.rows.size());
  for (std::size_t i = 0; i < tests.size(); ++i)
    if (!input.left_out[i]) tests[i] = test_of(fit.rows[i], fit.cofactor);
  return tests;
}

std::vector<OffsetRun> runs_of(const PartFit& fit, const std::vector<std::size_t>& rows) {
  std::vector<OffsetRun> runs;
  for (std::size_t first = 0; first < rows.size(); ++first) {
    SlipSums sums;
    for (std::size_t last = first; last < rows.size(); ++last) {
      sums.add(fit.rows[rows[last]]);
      OffsetRun run = run_with(fit, sums);
      if (run.standard == 0) continue;
      run.first = first;
      run.last = last;
      runs.push_back(run);
    }
  }
  return runs;
}

OffsetRun all_of(const PartFit& fit, const std::vector<std::size_t>& rows) {
  SlipSums sums;
  for (const std::size_t i : rows) sums.add(fit.rows[i]);
  OffsetRun run = run_with(fit, sums);
  run.last = rows.empty() ? 0 : rows.size() - 1;
  return run;
}

}  // namespace standpoint
