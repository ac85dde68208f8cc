#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/lists/list_table.h"
#include "io/read/text/fault.h"
#include "standpoint/scene.h"

namespace standpoint {

/// The half-angle of the contact ring of a nest that a list does not state it of, degrees: a usual
/// one of conical seats (common practice).
inline constexpr double kUsualSeatDeg = 45;

/// One nest of a list.
struct ListedNest {
  Nest nest;                    ///< in the list's frame, mm and rad, unit vectors
  bool is_upward = false;       ///< no normal is stated: +Z of the list's frame was taken
  bool has_usual_seat = false;  ///< no seat is stated: `kUsualSeatDeg` was taken
  std::string where;            ///< of its row, for faults: "FILE:LINE:COLUMN"
};

/// A list of nests, in the order of the file, with at least one.
struct NestList {
  std::vector<ListedNest> nests;
};

/// Reads a list of nests, CSV or QIF, as `parse_feature_list` reads one of features: the same
/// dialects, units, faults, cost and threads.
[[nodiscard]] tl::expected<NestList, Faults> parse_nest_list(std::string_view bytes,
                                                             const ListOptions& options);

}  // namespace standpoint
