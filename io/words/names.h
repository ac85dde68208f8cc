#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planner/network/budget.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// Names that files carry (contract section 5). They are fixed: programs read them.

[[nodiscard]] std::string_view verdict_name(Verdict verdict);   ///< "full-target", ...
[[nodiscard]] std::string_view rule_name(Rule rule);            ///< "out-of-range", ...
[[nodiscard]] std::string_view role_name(BodyRole role);        ///< "part", ...
[[nodiscard]] std::string_view warning_name(WarningKind kind);  ///< "no-nests", ...
[[nodiscard]] std::string_view proof_name(ProofStatus status);  ///< "optimal", "feasible"

[[nodiscard]] std::string_view source_name(Source source);  ///< "across-beam", ...

/// The verdict as people read it: "full target", "offset stylus", "blocked".
[[nodiscard]] std::string_view verdict_words(Verdict verdict);

/// How the touches of a feature are taken: "surface", "rim", "wall".
[[nodiscard]] std::string_view way_name(Way way);

/// How the feature's target reaches its touch number `touch`; null where it does not.
[[nodiscard]] const Reached* reached_by_target(const FeatureMark& mark, std::size_t touch);

/// How many touches the feature's target reaches.
[[nodiscard]] std::size_t count_reached(const FeatureMark& mark);

/// The features' names as the scene has them, in this order.
[[nodiscard]] std::vector<std::string> feature_names(const Scene& scene,
                                                     const std::vector<FeatureId>& ids);

/// Whether everything required is reached by the plan.
[[nodiscard]] bool is_all_required_reached(const Scene& scene, const Plan& plan);

}  // namespace standpoint
