#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"
#include "planner/setup/held_row.h"
#include "planner/setup/resection.h"

namespace standpoint {

/// What the operator's instrument read: nests, and touches of features.
struct MeasuredNests {
  std::string file;                ///< its path, for faults
  std::vector<SeenNest> seen;      ///< nests, in the file's order, mm; but for those read again
  std::vector<std::size_t> lines;  ///< on which each begins, from 1

  std::vector<SeenRow> rows;           ///< nests and touches, in the file's order; none read again
  std::vector<std::size_t> row_lines;  ///< on which each begins
  std::vector<SeenNest> again;         ///< nests read again at the end, in the file's order

  /// Whether the file names features.
  [[nodiscard]] bool has_features() const { return rows.size() > seen.size(); }
};

/// Reads the text of a CSV file (RFC 4180; LF alone ends a record too, a UTF-8 byte order mark and
/// empty lines are skipped). The header has the columns name, x, y, z, and may have touch, target
/// and when, in any order. Then a record for each reading: a nest's ball's centre, or the centre of
/// the ball or tip that touches a feature, in the instrument's frame and the scene's units. `touch`
/// is a touch's number, from 1; `target` what the software was told, which may be empty where the
/// scene has one full target; `when` is empty or start, or end for a nest that is read again. Every
/// fault is told at once, `where` = "FILE:LINE": another header, another number of fields, broken
/// quoting, names that are no nest or feature of the scene or are both, nests that stand twice, or
/// only at the end, targets that the scene does not have, numbers that are none, not finite or
/// beyond 1e9. Which touches a feature has is asked later (`stand_by_part`). `file` is what it is
/// called in faults. O(n).
[[nodiscard]] tl::expected<MeasuredNests, Faults> parse_measured(std::string_view text,
                                                                 const std::string& file,
                                                                 const Scene& scene);

/// `parse_measured` on a file; one that cannot be read is a fault whose `where` is its path.
[[nodiscard]] tl::expected<MeasuredNests, Faults> read_measured(const std::filesystem::path& file,
                                                                const Scene& scene);

}  // namespace standpoint
