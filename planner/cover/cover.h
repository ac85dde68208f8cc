#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "planner/cover/link_groups.h"

namespace standpoint {

// The choice of stations as a pure covering problem: no geometry, no scene.

/// Which rows each column covers, and which columns are tied to one another.
struct CoverProblem {
  std::size_t rows = 0;
  std::vector<std::vector<std::uint32_t>> covers;  ///< for each column its rows, ascending
  std::vector<std::vector<std::uint32_t>> fully;   ///< of those, the rows covered by full target
  std::vector<bool> counts;  ///< for each row whether it must be covered (a required feature)
  int times = 1;             ///< how many columns should cover each row, >= 1
  std::vector<std::uint32_t> keep;  ///< columns in every solution, each once
  std::optional<LinkGroups> links;  ///< between columns; nothing: no ties are asked
};

enum class CoverStatus {
  optimal,     ///< all three aims are proven
  feasible,    ///< time ran out: see the bounds for what is proven
  interrupted  ///< stopped from outside: the best known so far
};

struct CoverSolution {
  std::vector<std::uint32_t> columns;  ///< ascending
  CoverStatus status = CoverStatus::optimal;
  int covered = 0;      ///< sum over counted rows of min(times covered, times): always the greatest
  int lower_bound = 0;  ///< proven least number of columns at the greatest coverage
  int full_rows = 0;    ///< rows, counted or not, that some chosen column covers fully
  /// Proven: no set of equal coverage and columns.size() columns has more full rows.
  int full_bound = 0;
  bool keep_tied = true;  ///< false: the kept columns cannot be tied; ties were not asked

  /// Whether the number of columns is proven least, whatever is known of the full rows.
  [[nodiscard]] bool is_count_proven() const {
    return lower_bound == static_cast<int>(columns.size());
  }
};

/// Solves, exactly and in this order (contract section 4): the greatest coverage of counted rows
/// (the sum over them of min(times covered, times)) among column sets that are connected by links;
/// then the fewest columns; then the most rows covered by full target. One column needs no link.
///
/// Dominated columns and rows are removed; the integer programs go to CBC; connection is kept by
/// cuts added when a solution breaks it (proofs of both in docs/stations.md). The same problem
/// gives the same solution, unless time runs out. When `time_limit_s` (s, wall clock, >= 0) is
/// over, the best known solution comes back with status `feasible` and the proven bounds; coverage
/// is the greatest even then. `is_interrupted` is polled between programs: a program under way ends
/// with its own time.
///
/// Preconditions (asserted): one entry a column and row; rows and columns in range; lists
/// ascending; `fully` within `covers`; links symmetric. O(columns^2 rows / 64) for the reductions
/// and O(groups^2 / 8) bytes for the links; the programs are exponential at worst.
[[nodiscard]] CoverSolution solve_cover(const CoverProblem& problem, double time_limit_s,
                                        const std::function<bool()>& is_interrupted = {});

}  // namespace standpoint
