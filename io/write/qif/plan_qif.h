#pragma once

#include <string>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// The plan as a QIF 3.0 document (ISO 23952:2020) that the published schema validates: the
/// instrument, the scene's features with their tolerances and its nests, the points at which the
/// plan touches each, and the steps in the order of work (docs/lists.md). In the scene's units,
/// UTF-8. `parse_feature_list` reads the features back, `parse_nest_list` the nests. The same plan
/// gives the same bytes: the document's identifier is made from its text. Preconditions: plan and
/// scene belong together. O(touches + stations x targets^3).
[[nodiscard]] std::string plan_qif(const Scene& scene, const Plan& plan);

}  // namespace standpoint
