#pragma once

#include <cstdint>
#include <vector>

#include "planner/cover/cover_bounds.h"
#include "planner/cover/cover_program.h"

namespace standpoint {

/// A covering problem of a few rows: no ties, no shared rows. Of ten thousand columns few are left,
/// since on few rows nearly all have no more than others.
///
/// Immutable; one search at a time.
class FewRows {
 public:
  enum class State {
    found,    ///< `columns` cost least, or as little as was asked for
    none,     ///< proven: nothing costs less than was asked for
    given_up  ///< nothing is proven
  };
  struct Answer {
    State state = State::given_up;
    Columns columns;  ///< of the core, ascending
    int cost = 0;     ///< of them, steps
  };

  /// `cost`: of each column of the core, steps, >= 1 where a row has it. Columns that others
  /// dominate are left out (docs/stations.md). O(columns rows + columns kept rows / 64).
  FewRows(const std::vector<const RowNeed*>& rows, const std::vector<int>& cost);

  /// How many columns are left.
  [[nodiscard]] std::size_t size() const { return names_.size(); }

  /// The cheapest columns that meet all rows, of those that cost less than `below`; the first found
  /// that cost no more than `enough` do. Looks at one branch for each of `steps`, and counts it
  /// down. Exponential at worst.
  [[nodiscard]] Answer cheapest(int enough, int below, long long& steps) const;

  /// The same from the solver (`BinaryProgram::minimise`).
  [[nodiscard]] Answer cheapest_by_solver(int enough, int below, double time_limit_s) const;

 private:
  class Search;

  Columns names_;              ///< of each column that is left its number in the core
  std::vector<int> cost_;      ///< of these
  BitMatrix covers_;           ///< these x rows
  BitMatrix by_row_;           ///< rows x these
  std::vector<int> need_;      ///< of each row
  std::vector<int> cheapest_;  ///< of each row: what its cheapest column costs
  int cheapest_of_all_ = 1;
};

}  // namespace standpoint
