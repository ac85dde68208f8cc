#include "standpoint/rehearsal.h"

#include "planner/network/plan_network.h"
#include "planner/rehearsal/rehearse.h"

namespace standpoint {

std::optional<Rehearsal> rehearse(const Scene& scene, const Plan& plan, const RehearsalOrder& order,
                                  const Watch& watch) {
  if (!states_error(scene.instrument)) return std::nullopt;
  return rehearse_network(plan_network(scene, plan), order, watch);
}

}  // namespace standpoint
