#include "planner/network/plan_budget.h"

#include <optional>

#include "planner/network/plan_network.h"

namespace standpoint {
namespace {

/// What the room does, and the poses; nothing where the plan has no figures.
std::optional<EnvironmentEffects> effects_of(const Scene& scene, const PlanNetwork& network) {
  const PlanUncertainty figures = predict_uncertainty(scene, network);
  if (figures.figures == Figures::own) {
    return environment_effects_alone(scene.environment, middle_of(network.touches));
  }
  if (figures.figures != Figures::network) return std::nullopt;
  return environment_effects(*adjust(network.input).adjustment, scene.environment);
}

}  // namespace

std::vector<FeatureBudget> feature_budgets(const Scene& scene, const Plan& plan) {
  std::vector<FeatureBudget> budgets;
  if (!states_error(scene.instrument)) return budgets;
  const PlanNetwork network = plan_network(scene, plan);
  if (network.touches.empty()) return budgets;
  const auto effects = effects_of(scene, network);
  if (!effects) return budgets;
  for (std::size_t i = 0; i < network.touches.size(); ++i) {
    const WatchedTouch& touch = network.touches[i];
    if (touch.datum_touch) continue;
    const Budget budget = touch_budget(*effects, scene.instrument.error, touch.station,
                                       network.input.stations[touch.station], touch.reading);
    const bool is_new = budgets.empty() || budgets.back().feature != touch.feature;
    if (is_new) {
      budgets.push_back({touch.feature, network.touch_index[i], budget});
    } else if (budget.expanded > budgets.back().budget.expanded) {
      budgets.back() = {touch.feature, network.touch_index[i], budget};
    }
  }
  return budgets;
}

}  // namespace standpoint
