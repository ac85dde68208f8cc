#include "planner/cover/cover_cost.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

namespace standpoint {

CostSteps::CostSteps(const std::vector<double>& costs, std::size_t columns) : of(columns, 1) {
  if (costs.empty()) return;
  assert(costs.size() == columns);
  const double most = *std::max_element(costs.begin(), costs.end());
  are_equal = std::all_of(costs.begin(), costs.end(), [&](double cost) { return cost == most; });
  if (are_equal) return;
  constexpr double kMillion = 1e6;
  long long common = 0;
  for (const double cost : costs) common = std::gcd(common, std::llround(cost * kMillion));
  const bool is_exact =
      common > 0 && most * kMillion <= static_cast<double>(common) * (kMostSteps + 0.5);
  step = is_exact ? static_cast<double>(common) / kMillion : most / kMostSteps;
  for (std::size_t c = 0; c < columns; ++c) {
    const auto steps = static_cast<int>(std::lround(costs[c] / step));
    of[c] = costs[c] > 0 ? std::max(1, steps) : 0;
    greatest = std::max(greatest, of[c]);
  }
}

}  // namespace standpoint
