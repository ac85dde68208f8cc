#include "io/use/plan_scene.h"

#include <utility>

#include "planner/stations/candidates.h"

namespace standpoint {

Answered<PlanAnswer> plan_scene(const Cell& cell, const Attendant& attendant) {
  const Watch& watch = attendant.watch;
  auto plan = make_plan(cell, watch);
  if (!plan) return interrupted();
  return look_into_plan(cell, std::move(*plan), attendant);
}

Answered<PlanAnswer> look_into_plan(const Cell& cell, Plan plan, const Attendant& attendant) {
  const Watch& watch = attendant.watch;
  attendant.say("looking for what the plan hangs on");
  Advice advice =
      advise(cell, plan, cell.scene().nest_sites, generate_candidates(cell).kept, watch);
  if (watch.is_interrupted()) return interrupted();
  Cautions cautions = find_cautions(cell.scene(), plan);
  return PlanAnswer{cell, std::move(plan), std::move(advice), std::move(cautions)};
}

}  // namespace standpoint
