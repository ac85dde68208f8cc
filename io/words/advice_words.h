#pragma once

#include <string>
#include <vector>

#include "planner/planning/advice.h"
#include "standpoint/scene.h"

namespace standpoint {

// What an advice says, in sentences. Names appear as the scene has them.

/// The word that files carry: "range", "stylus", "weak-tie", "extrapolation".
[[nodiscard]] std::string_view reason_name(Reason reason);

/// "pad-1: U 0.052 mm along (0.1, 0.9, 0.3); 71 % of its variance is range: ..."
[[nodiscard]] std::string contributor_sentence(const Scene& scene,
                                               const WorstContributor& contributor);

/// What is left without a nest: "without N3: worst U 0.081 mm (pad-1), 1.6 times that of now", or
/// that nothing holds any more, and why.
[[nodiscard]] std::string loss_sentence(const Scene& scene, const Plan& plan, const Advice& advice,
                                        const NestLoss& loss);

/// What one nest more, and one station more, would do; a sentence each, also where none helps.
[[nodiscard]] std::vector<std::string> gain_sentences(const Scene& scene, const Advice& advice);

/// How nests lie by the rules of practice, one sentence an entry.
[[nodiscard]] std::vector<std::string> practice_sentences(const Scene& scene, const Plan& plan,
                                                          const Practice& practice);

}  // namespace standpoint
