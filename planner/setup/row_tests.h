#pragma once

#include <cstddef>
#include <vector>

#include "planner/setup/part_fit.h"

namespace standpoint {

/// What leaving out one row would do, to first order.
struct RowTest {
  /// In how many directions the other rows check it, all that it is held along; 0 where they leave
  /// one unchecked, and nothing is tested.
  int freedoms = 0;
  double drop = 0;          ///< of chi-square
  Vec3 off = Vec3::Zero();  ///< the error that it most likely has, world, mm
};

/// Data snooping (W. Baarda, A testing procedure for use in geodetic networks, Netherlands Geodetic
/// Commission 2(5), 1968): each row's residual against the part of its covariance that is left once
/// all are fitted, Q = 1 - J N^-1 J^T in units of its own. The drop is l^T Q^-1 l of the residual
/// l; it is chi-square with `freedoms` degrees of freedom where the row is sound. A row of one
/// direction: the square of Baarda's w. Rows that are left out have no freedoms. O(rows).
[[nodiscard]] std::vector<RowTest> row_tests(const PartFitInput& input, const PartFit& fit);

/// Readings that might all have been taken with a ball of another radius than told.
struct OffsetRun {
  std::size_t first = 0, last = 0;  ///< into the rows that the runs are of
  double larger = 0;                ///< by how much the ball was larger than told, mm
  double standard = 0;              ///< standard uncertainty of `larger`, mm
  double drop = 0;                  ///< of chi-square with that one unknown more
};

/// Every run of consecutive `rows` (indices into the input's, ascending; none left out), each by
/// one unknown more, `larger`: with the residuals l at the fitted pose, c = how they grow with it
/// and N the normal matrix, larger = c^T l / (c^T c - |J^T c|^2 by N^-1), to first order. Sums
/// along the rows make each run O(1). Runs that the pose would take up whole
/// (`tolerance::kHeldFast`) are left out: nothing reveals them. Derived here from the residual
/// cofactors that Baarda uses. O(rows^2).
[[nodiscard]] std::vector<OffsetRun> runs_of(const PartFit& fit,
                                             const std::vector<std::size_t>& rows);

/// The same of any rows together; `drop` is 0 where the pose would take them up.
[[nodiscard]] OffsetRun all_of(const PartFit& fit, const std::vector<std::size_t>& rows);

}  // namespace standpoint
