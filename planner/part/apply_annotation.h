#pragma once

#include <vector>

#include "planner/part/annotation.h"
#include "planner/part/found_feature.h"

namespace standpoint {

/// Gives each feature the tolerance that its annotation asks for, and marks the datum features.
///
/// A tolerance concerns a feature when it applies to one of the feature's faces and is of a kind
/// that the feature can have (flatness: planes; roundness: round ones; and so on). Of several, the
/// first of these that is there decides, and in it the smallest zone (docs/annotation.md, chosen
/// here): 1. location and profile; 2. run-out; 3. orientation; 4. form. Those of the whole part
/// ("all over") give way to the feature's own within each. A zone of width 0 (at the limit of
/// material) gives no `tolerance`. Of equal ones the lower id decides, so the order of the lists
/// plays no part.
///
/// Sets `tolerance`, `tolerance_from` and `datum` only where annotation says so; leaves the rest.
/// Preconditions: faces ascending. O(features x annotation x faces). Safe from several threads on
/// different features.
void apply_annotation(std::vector<FoundFeature>& features, const Annotation& annotation);

}  // namespace standpoint
