#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "planner/network/adjustment.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// What the residuals of one adjustment say.
struct ResidualVerdict {
  bool is_global_flagged = false;  ///< the weighted sum of squares is too large
  bool is_local_flagged = false;   ///< some observation's normalised residual is too large
  /// Of the largest normalised residual, where flagged; empty where it is a touch of the alignment.
  std::optional<std::uint32_t> nest;
};

/// The tests that an adjustment's residuals are put to: the global test of their weighted sum of
/// squares, which is chi-square with as many degrees of freedom as the network has redundant
/// observations; and for each observation of a nest, and each touch of the alignment, the quadratic
/// form of its residual with the residual's own covariance, chi-square too (W. Baarda, A testing
/// procedure for use in geodetic networks, 1968, in three dimensions at once). Where a residual
/// cannot move in some direction, that direction is left out; an observation without any is not
/// tested. Immutable.
class ResidualTests {
 public:
  /// `global_level`, `local_level`: how often a sound network is flagged, of all adjustments, and
  /// of all single observations. Precondition: no datum touches (they are seen once and tell
  /// nothing).
  ResidualTests(const Adjustment& adjustment, double global_level, double local_level);

  /// How many observations are redundant: 3 x observations - unknowns + 6; with an alignment the
  /// directions that it holds in place of the 6.
  [[nodiscard]] int degrees_of_freedom() const { return degrees_of_freedom_; }
  /// Whether an observation is tested at all.
  [[nodiscard]] bool is_tested(std::size_t observation) const { return ranks_[observation] > 0; }

  /// Residuals of observed places shifted by `shifts` (as Adjustment::respond takes them), mm: what
  /// is left of each shift when its station and nest have answered.
  [[nodiscard]] std::vector<Vec3> residuals(const std::vector<Vec3>& shifts,
                                            const Response& response) const;
  [[nodiscard]] ResidualVerdict judge(const std::vector<Vec3>& residuals) const;
  /// The weighted sum of squares.
  [[nodiscard]] double square_sum(const std::vector<Vec3>& residuals) const;

 private:
  const Adjustment* adjustment_;
  int degrees_of_freedom_ = 0;
  double global_limit_ = 0;
  std::vector<Mat3> weights_;   ///< of each observation
  std::vector<Mat3> inverses_;  ///< of each residual's covariance, where it has one
  std::vector<int> ranks_;      ///< directions in which it is tested
  std::vector<double> limits_;  ///< of each quadratic form
};

}  // namespace standpoint
