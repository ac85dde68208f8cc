#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"
#include "planner/setup/resection.h"

namespace standpoint {

/// Nests as the operator's instrument read them.
struct MeasuredNests {
  std::string file;                ///< its path, for faults
  std::vector<SeenNest> seen;      ///< in the file's order, mm
  std::vector<std::size_t> lines;  ///< on which each begins, from 1
};

/// Reads the text of a CSV file (RFC 4180; LF alone ends a record too, a UTF-8 byte order mark and
/// empty lines are skipped): the header `name,x,y,z`, then a record for each nest, its ball's
/// centre in the instrument's frame, in the scene's units. Every fault is told at once, `where` =
/// "FILE:LINE": another header, another number of fields, broken quoting, names that are no nest of
/// the scene or stand twice, numbers that are none, not finite or beyond 1e9. `file` is what it is
/// called in faults. O(n).
[[nodiscard]] tl::expected<MeasuredNests, Faults> parse_measured(std::string_view text,
                                                                 const std::string& file,
                                                                 const Scene& scene);

/// `parse_measured` on a file; one that cannot be read is a fault whose `where` is its path.
[[nodiscard]] tl::expected<MeasuredNests, Faults> read_measured(const std::filesystem::path& file,
                                                                const Scene& scene);

}  // namespace standpoint
