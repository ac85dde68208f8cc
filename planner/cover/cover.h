#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "planner/cover/link_groups.h"

namespace standpoint {

// The choice of stations as a pure covering problem: no geometry, no scene.

/// Whether a set of touches is enough to cover a row. More touches never make what is enough too
/// few. The set has a bit for each touch; unused bits are zero.
using TouchTest = std::function<bool(ConstBitSpan touches)>;

/// How columns may cover a row together: each takes some of its touches, all of them one way (by
/// one target). Columns that cover the row alone are not listed.
struct SharedWay {
  std::uint32_t row = 0;
  bool is_full = false;     ///< by full target
  std::size_t touches = 0;  ///< how many there are
  std::size_t least = 1;    ///< fewer of them are never enough
  bool is_count = false;    ///< `least` of them are always enough: the test need not be asked
  std::vector<std::uint32_t> columns;  ///< that take some touch this way, ascending
  BitMatrix taken;                     ///< these columns x touches
  /// All touches together must pass. Ways of a row that have one test in common number their
  /// touches alike.
  std::shared_ptr<const TouchTest> is_enough;
};

/// Which rows each column covers, and which columns are tied to one another.
struct CoverProblem {
  std::size_t rows = 0;
  std::vector<std::vector<std::uint32_t>> covers;  ///< for each column its rows, ascending
  std::vector<std::vector<std::uint32_t>> fully;   ///< of those, the rows covered by full target
  std::vector<bool> counts;  ///< for each row whether it must be covered (a required feature)
  int times = 1;             ///< how many columns should cover each row, >= 1
  std::vector<std::uint32_t> keep;  ///< columns in every solution, each once
  std::optional<LinkGroups> links;  ///< between columns; nothing: no ties are asked
  std::vector<SharedWay> shared{};  ///< ascending by row; empty where `times` is above 1
  /// Of each column, > 0 (0 for a kept one); empty: 1 each. See `CostSteps`.
  std::vector<double> cost{};
};

enum class CoverStatus {
  optimal,     ///< all three aims are proven
  feasible,    ///< time ran out: see the bounds for what is proven
  interrupted  ///< stopped from outside: the best known so far
};

struct CoverSolution {
  std::vector<std::uint32_t> columns;  ///< ascending
  CoverStatus status = CoverStatus::optimal;
  int covered = 0;  ///< sum over counted rows of min(times covered, times): always the greatest
  double cost = 0;  ///< of the columns together: their number where all cost the same
  double lower_bound = 0;  ///< proven: the least cost at the greatest coverage is no less
  int full_rows = 0;       ///< rows, counted or not, that are covered fully
  /// Proven: no set of equal coverage and cost has more full rows.
  int full_bound = 0;
  bool keep_tied = true;  ///< false: the kept columns cannot be tied; ties were not asked

  /// Whether the cost is proven least, whatever is known of the full rows.
  [[nodiscard]] bool is_count_proven() const { return lower_bound == cost; }
};

/// Solves, exactly and in this order (contract section 4): the greatest coverage of counted rows
/// (the sum over them of min(times covered, times)) among column sets that are connected by links;
/// then the least cost, which is the fewest columns where all cost the same; then the most rows
/// covered by full target. One column needs no link. A row that no chosen column covers alone is
/// covered where the chosen ones take enough of its touches by one way (contract section 9), fully
/// where that is a full one.
///
/// Dominated columns and rows are removed; the integer programs go to CBC; connection is kept by
/// cuts added when a solution breaks it (proofs of both in docs/stations.md). The same problem
/// gives the same solution, unless time runs out. When `time_limit_s` (s, wall clock, >= 0) is
/// over, the best known solution comes back with status `feasible` and the proven bounds; coverage
/// is the greatest even then. `is_interrupted` is polled between programs: a program under way ends
/// with its own time.
///
/// Preconditions (asserted): one entry a column and row; rows and columns in range; lists
/// ascending; `fully` within `covers`; links symmetric; of a shared way no column that covers its
/// row. Tests are asked from one thread. O(columns^2 rows / 64) for the reductions
/// and O(groups^2 / 8) bytes for the links; the programs are exponential at worst.
[[nodiscard]] CoverSolution solve_cover(const CoverProblem& problem, double time_limit_s,
                                        const std::function<bool()>& is_interrupted = {});

}  // namespace standpoint
