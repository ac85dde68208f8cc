#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "planner/part/found_feature.h"

namespace standpoint {

/// Features as a list that `parse_feature_list` reads back (contract section 8, docs/lists.md):
/// commas, decimal points, CRLF, UTF-8 without a mark, the unit in the header. Numbers are written
/// whole: in mm the same doubles come back, in other units all but the last bit. Columns that no
/// feature fills are left out; a plane has a row for each of its points. `note` holds the
/// assembly's part. A plane without points cannot be listed and is left out, as are names of no
/// characters. Precondition: one of `kUnitNames`. O(n).
[[nodiscard]] std::string feature_list_csv(const std::vector<FoundFeature>& features,
                                           std::string_view units);

}  // namespace standpoint
