#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "io/use/start_layout.h"
#include "planner/part/found_feature.h"

namespace standpoint {

/// What `start` puts into the list of features, and the names of what it leaves out.
struct StartFeatures {
  std::vector<FoundFeature> taken;    ///< in the part's frame, in their order
  std::vector<std::string> no_place;  ///< planes with no three places to touch off one line
  std::vector<std::string> on_floor;  ///< the part stands on them
  std::size_t turned = 0;  ///< through holes and slots that are taken from their upper end
};

/// Sorts found features for a part that stands like this. A through hole or slot that opens
/// downward is taken from its other end. Left out is what lies on the floor, or opens onto it: no
/// target gets between. O(n).
[[nodiscard]] StartFeatures start_features(std::vector<FoundFeature> found, const Footing& footing);

}  // namespace standpoint
