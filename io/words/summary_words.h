#pragma once

#include <string>
#include <vector>

#include "planner/crew/cautions.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// A plan in few words: one line for each thing that must be known, the rest by count. words.h has
// the whole sentences. Names as the scene has them. None of these lines ends with a full stop.

/// "a, b, c and 5 more": names from the fourth on are only counted.
[[nodiscard]] std::string few_of(const std::vector<std::string>& names);

/// Why the plan does not measure a feature, in one line: "no place reaches it; ball-38: beam broken
/// by column-a, face 3; mirror-6: out of range". Targets with the same cause are named together.
/// Precondition: the feature is blocked in `plan`. O(touches).
[[nodiscard]] std::string blocked_line(const Scene& scene, const Plan& plan, FeatureId feature);

/// The warnings of a plan, one line for each kind, in the order in which the kinds first appear:
/// "3 features with a ratio (tolerance to uncertainty) below 4: a (2.5), b (3.1), c (3.2)". Those
/// that `blocked_line` tells (`unreached`, `lost_to_ties`) are left out.
[[nodiscard]] std::vector<std::string> warning_lines(const Scene& scene, const Plan& plan);

/// What the cautions are about, in one line: "laser radiation; 3 beams at eye height over walkways;
/// ...". Never empty: a stand and a beam are always there.
[[nodiscard]] std::string cautions_line(const Cautions& cautions);

}  // namespace standpoint
