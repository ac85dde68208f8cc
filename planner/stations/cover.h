#pragma once

#include <cstdint>
#include <functional>
#include <vector>

namespace standpoint {

// The choice of stations as a pure covering problem: no geometry, no scene.

/// Which rows each column covers, and which columns are tied to one another.
struct CoverProblem {
  std::size_t rows = 0;
  std::vector<std::vector<std::uint32_t>> covers;  ///< for each column its rows, ascending
  std::vector<std::vector<std::uint32_t>> fully;   ///< of those, the rows covered by full target
  std::vector<bool> counts;  ///< for each row whether it must be covered (a required feature)
  int times = 1;             ///< how many columns should cover each row
  std::vector<std::uint32_t> keep;  ///< columns in every solution
  /// For each column the columns it is linked with, ascending; empty vector: no ties are asked.
  std::vector<std::vector<std::uint32_t>> linked;
};

enum class CoverStatus { optimal, feasible, interrupted };

struct CoverSolution {
  std::vector<std::uint32_t> columns;  ///< ascending
  CoverStatus status = CoverStatus::optimal;
  int lower_bound = 0;    ///< proven least number of columns at the greatest coverage
  bool keep_tied = true;  ///< false: the kept columns cannot be tied; ties were not asked
};

/// Solves, exactly and in this order (contract section 4): the greatest coverage of counted rows
/// (the sum over them of min(times covered, times)) among column sets that are connected by links;
/// then the fewest columns; then the most rows covered by full target.
///
/// Dominated columns and rows are removed; the integer programs go to CBC; connection is kept by
/// cuts added when a solution breaks it (derivation in docs/stations.md). The same problem gives
/// the same solution. When `time_limit_s` runs out the best known solution comes back with status
/// `feasible` and the proven bound. `is_interrupted` is polled between programs.
[[nodiscard]] CoverSolution solve_cover(const CoverProblem& problem, double time_limit_s,
                                        const std::function<bool()>& is_interrupted = {});

}  // namespace standpoint
