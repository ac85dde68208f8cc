#include "planner/cover/cover_program.h"

#include <algorithm>

namespace standpoint {

std::uint32_t BinaryProgram::add_variable(int cost, bool is_fixed_to_one) {
  cost_.push_back(cost);
  is_one_.push_back(static_cast<char>(is_fixed_to_one));
  return static_cast<std::uint32_t>(cost_.size() - 1);
}

void BinaryProgram::add_row(Terms terms, int low, int high) {
  rows_.push_back({std::move(terms), low, high});
}

bool BinaryProgram::meets_rows(const std::vector<char>& values) const {
  for (std::size_t v = 0; v < values.size(); ++v) {
    if (is_one_[v] != 0 && values[v] == 0) return false;
  }
  return std::all_of(rows_.begin(), rows_.end(), [&](const Row& row) {
    long long sum = 0;
    for (const Term& term : row.terms) {
      if (values[term.variable] != 0) sum += term.factor;
    }
    return (row.low == -kNoBound || sum >= row.low) && (row.high == kNoBound || sum <= row.high);
  });
}

}  // namespace standpoint
