#pragma once

#include <string>
#include <vector>

#include "planner/network/motion.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// "turn about z through (120, 40, 0)", "shift along (0.6, 0.8, 0)": goes on after "free to". In
/// scene units; a screw is told as the turn that it is, with its rise per degree.
[[nodiscard]] std::string motion_words(const Scene& scene, const Motion& motion);

/// "turn about z through (120, 40, 0) and shift along z"; at most six motions.
[[nodiscard]] std::string motions_words(const Scene& scene, const std::vector<Motion>& motions);

/// What would hold the motions that an alignment to these features leaves free, by name: "pad-4 or
/// dowel-2"; empty where nothing of the scene does.
[[nodiscard]] std::string holding_words(const Scene& scene, const std::vector<Motion>& motions,
                                        const std::vector<FeatureId>& aligned);

/// What a plan's figures refer to: "The part's frame is held by top, dowel-1 and dowel-2, from S1.
/// It is known least in a turn about z through (..): 0.04 mm (k = 2) at rib-7." Precondition: the
/// scene states an alignment.
[[nodiscard]] std::string alignment_sentence(const Scene& scene, const Plan& plan);

}  // namespace standpoint
