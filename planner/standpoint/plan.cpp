#include "standpoint/plan.h"

#include <utility>

#include "planner/planning/improve.h"
#include "planner/planning/settle_targets.h"
#include "planner/planning/station_choice.h"

namespace standpoint {

std::optional<Plan> make_plan(const Cell& cell, const Watch& watch) {
  const auto choice = choose_stations(cell, watch);
  if (!choice) return std::nullopt;
  watch.tell(Stage::network, 0);
  ProvisionalPlan provisional = settle_targets(
      cell,
      provisional_plan(cell.scene(), stations_of({cell, choice->candidates.kept, choice->table, {}},
                                                 choice->chosen)));
  std::vector<Link> links;
  if (choice->ties.are_asked()) links = links_between(choice->ties, choice->chosen);
  return finish_plan(cell, *choice, std::move(provisional), std::move(links));
}

}  // namespace standpoint
