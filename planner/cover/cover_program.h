#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

namespace standpoint {

/// An integer program over variables that are 0 or 1, given to CBC. Integer data throughout.
class BinaryProgram {
 public:
  static constexpr int kNoBound = std::numeric_limits<int>::max();

  struct Term {
    std::uint32_t variable = 0;
    int factor = 1;
  };
  using Terms = std::vector<Term>;

  enum class State {
    optimal,     ///< `values` is proven best
    infeasible,  ///< proven: no values meet the rows
    stopped      ///< time ran out, or the answer failed its recheck: nothing proven but `bound`
  };

  struct Outcome {
    State state = State::stopped;
    std::optional<std::vector<char>> values;  ///< meets every row, rechecked in integers
    std::optional<int> bound;                 ///< proven: no values that meet the rows cost less
  };

  /// Returns the number of the new variable.
  std::uint32_t add_variable(int cost, bool is_fixed_to_one = false);
  /// Asks low <= sum of factor * variable <= high; kNoBound for an open `high`, -kNoBound for an
  /// open `low`. Precondition: each variable at most once.
  void add_row(Terms terms, int low, int high);

  /// The values of least cost. Silent, one thread, the same each time unless time runs out (s, wall
  /// clock). `greatest_cost`: of a variable, where costs are counted to be added up: as much larger
  /// may the solver's bound be off. Exponential at worst. Throws std::runtime_error in a build
  /// without an integer solver (docs/webassembly.md).
  [[nodiscard]] Outcome minimise(double time_limit_s, int greatest_cost = 1) const;

 private:
  struct Row {
    Terms terms;
    int low = 0, high = 0;
  };

  [[nodiscard]] bool meets_rows(const std::vector<char>& values) const;

  std::vector<int> cost_;
  std::vector<char> is_one_;
  std::vector<Row> rows_;
};

}  // namespace standpoint
