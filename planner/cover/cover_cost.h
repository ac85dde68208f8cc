#pragma once

#include <cstddef>
#include <vector>

namespace standpoint {

/// What columns cost, in whole steps: sums are then exact, and the integer programs stay integer.
///
/// Equal costs are one step each, and a step is worth 1: the measure is then the number of columns.
/// Else costs are taken in millionths. Where they have a common measure of which the greatest is at
/// most `kMostSteps`, that is the step and nothing is lost. Where not, the step is the greatest
/// cost over `kMostSteps`, and each cost counts as its nearest number of steps: costs that differ
/// by less than a step may count as equal. No cost above zero counts as none.
struct CostSteps {
  static constexpr int kMostSteps = 100000;

  std::vector<int> of;    ///< for each column
  double step = 1;        ///< what one is worth
  bool are_equal = true;  ///< all columns cost the same
  int greatest = 1;       ///< of `of`

  /// `costs` empty: 1 each. Precondition: finite, >= 0. O(columns).
  CostSteps(const std::vector<double>& costs, std::size_t columns);
};

}  // namespace standpoint
