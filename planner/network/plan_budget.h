#pragma once

#include <vector>

#include "planner/network/budget.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Where the uncertainty of a feature's worst touch comes from.
struct FeatureBudget {
  FeatureId feature;
  std::uint32_t touch = 0;  ///< index into the touches of its mark
  Budget budget;            ///< along the direction of its greatest uncertainty
};

/// For each measured feature of the plan, ascending, line by line (JCGM 100:2008, 5.1); nothing for
/// features on which the datum is laid (see `touch_budget`) and where the plan has no figures. The
/// sums equal those of `predict_uncertainty`. Pure; O(the network + touches).
[[nodiscard]] std::vector<FeatureBudget> feature_budgets(const Scene& scene, const Plan& plan);

}  // namespace standpoint
