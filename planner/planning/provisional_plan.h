#pragma once

#include <optional>
#include <vector>

#include "planner/network/plan_network.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// A plan for a given choice of stations: what each measures, and how well.
struct ProvisionalPlan {
  Plan plan;                    ///< stations, features with their uncertainty; no links, warnings
  PlanUncertainty uncertainty;  ///< where the figures come from, or why there are none
  bool has_figures = true;      ///< whether they say something: the instrument's error is stated
};

/// Lays every feature on the station that marks it best: full target before stylus, then the
/// smallest predicted uncertainty where there is a network, then the largest margin, then the first
/// station; the next best are `also_from`, as many as `stations_per_feature` asks. A feature that
/// none takes alone is laid on all of them together where that is enough (`mark_together`).
/// O(stations x (network + touches)). `stations` come with their sights.
///
/// With `scene.alignment` the features of `aligned` hold the part's frame: each is laid on the
/// station that marks it best, of equal ones on the station that takes most of them (`begins`), and
/// the figures of all others are relative to them. Precondition: `aligned` is empty without one.
[[nodiscard]] ProvisionalPlan provisional_plan(const Scene& scene,
                                               std::vector<PlannedStation> stations,
                                               const std::vector<FeatureId>& aligned);

/// The same with what `scene.alignment` names.
[[nodiscard]] ProvisionalPlan provisional_plan(const Scene& scene,
                                               std::vector<PlannedStation> stations);

/// The station with which a crew begins: the one that takes the most of `aligned` by full target,
/// then the most in all; of equal ones the first by place. 0 where none takes any. O(stations x
/// aligned). Precondition: a station, and the sights hold every feature of the scene.
[[nodiscard]] std::size_t begins(const std::vector<PlannedStation>& stations,
                                 const std::vector<FeatureId>& aligned);

/// Lays a feature on all stations of the plan together, touch by touch, where none takes it alone
/// and that is enough (`mark_together`); else leaves it as it is. Precondition: `plan.features` and
/// the stations' sights hold every feature of the scene.
void lay_on_all(const Scene& scene, Plan& plan, FeatureId feature);

/// How good a provisional plan is in the two aims that are searched: the last two of contract
/// section 4.
struct Quality {
  std::optional<double> worst_expanded;  ///< greatest over measured features, mm; empty: no figures
  double least_margin = 0;               ///< least over measured features, mm
};

[[nodiscard]] Quality quality_of(const ProvisionalPlan& provisional);

/// Whether `a` is the better one: figures before none, the smaller worst uncertainty (by more than
/// `tolerance::kSameUncertainty` of it), then the larger least margin.
[[nodiscard]] bool is_better(const Quality& a, const Quality& b);

}  // namespace standpoint
