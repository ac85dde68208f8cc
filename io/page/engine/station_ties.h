#pragma once

#include <string>
#include <vector>

#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// Which of some stations are tied, where their nests have these verdicts (by station, then in the
/// scene's order; a station that nothing is known of yet may have none), as the page reads it:
///   {"links": [{"a", "b", "nests": [numbers]}], "loose": [stations not tied to the first],
///    "lines": [{"a", "b", "nests", "ends": [two of them], "off"}]}
/// with stations by their places in the list. Where no ties are asked none is loose. `lines`: two
/// stations whose nests would be enough to link them, were they not all in one line; `ends` are the
/// two that are farthest apart, and `off`, in scene units, is how far off the line through them one
/// more nest must stand (`nests_in_line`).
[[nodiscard]] std::string station_ties(const Scene& scene,
                                       const std::vector<std::vector<Verdict>>& verdicts);

}  // namespace standpoint
