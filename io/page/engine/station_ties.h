#pragma once

#include <string>
#include <vector>

#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// Which of some stations are tied, where their nests have these verdicts (by station, then in the
/// scene's order; a station that nothing is known of yet may have none), as the page reads it:
///   {"links": [{"a", "b", "nests": [numbers]}], "loose": [stations not tied to the first]}
/// with stations by their places in the list. Where no ties are asked none is loose.
[[nodiscard]] std::string station_ties(const Scene& scene,
                                       const std::vector<std::vector<Verdict>>& verdicts);

}  // namespace standpoint
