#include "planner/network/plan_budget.h"

#include <gtest/gtest.h>

#include <cmath>

#include "planner/network/plan_network.h"
#include "tests/planner/network/two_station_job.h"

namespace standpoint {
namespace {

TEST(FeatureBudgets, AddUpToThePredictedUncertainty) {
  Environment environment;
  environment.part_temperature = 23;
  environment.part_temperature_error = 0.5;
  environment.expansion = 11.5e-6;
  environment.expansion_error = 1e-6;
  environment.air_temperature_error = 0.4;
  environment.nest_repeatability = 0.005;
  for (const Environment& r : {Environment{}, environment}) {
    Job job(r);
    const PlanNetwork network = plan_network(job.scene, job.plan);
    write_uncertainty(network, predict_uncertainty(job.scene, network), job.plan);
    const auto budgets = feature_budgets(job.scene, job.plan);
    ASSERT_EQ(budgets.size(), 2u);
    for (const FeatureBudget& feature : budgets) {
      const PlannedFeature& planned = job.plan.features[feature.feature.index];
      ASSERT_TRUE(planned.uncertainty);
      EXPECT_NEAR(feature.budget.expanded, planned.uncertainty->expanded,
                  1e-9 * planned.uncertainty->expanded);
      double squares = 0, shares = 0;
      for (const BudgetLine& line : feature.budget.lines) {
        squares += line.effect * line.effect;
        shares += line.share;
      }
      EXPECT_NEAR(2 * std::sqrt(squares), feature.budget.expanded, 1e-12);
      EXPECT_NEAR(shares, 1, 1e-9);
      EXPECT_GE(feature.budget.lines.size(), r.nest_repeatability > 0 ? 6u : 3u);
    }
  }
}

}  // namespace
}  // namespace standpoint
