#include "standpoint/plan.h"

#include <algorithm>
#include <utility>

#include "planner/planning/choose_alignment.h"
#include "planner/planning/improve.h"
#include "planner/planning/settle_targets.h"
#include "planner/planning/station_choice.h"

namespace standpoint {

namespace {

/// The plan of the stations chosen; with an alignment the station that begins with it comes first.
ProvisionalPlan lay_plan(const Cell& cell, StationChoice& choice) {
  const Scene& scene = cell.scene();
  const LaterSearch search{cell, choice.candidates.kept, choice.table, {}};
  std::vector<PlannedStation> stations = stations_of(search, choice.chosen);
  const PlannedAlignment aligned = aligned_features(scene, stations);
  if (const std::size_t first = stations.empty() ? 0 : begins(stations, aligned.features);
      first > 0) {
    const auto front = choice.chosen.begin();
    std::rotate(front, front + static_cast<std::ptrdiff_t>(first),
                front + static_cast<std::ptrdiff_t>(first) + 1);
    stations = stations_of(search, choice.chosen);
  }
  ProvisionalPlan provisional = provisional_plan(scene, std::move(stations), aligned.features);
  provisional.plan.alignment = aligned;
  return provisional;
}

}  // namespace

std::optional<Plan> make_plan(const Cell& cell, const Watch& watch) {
  auto choice = choose_stations(cell, watch);
  if (!choice) return std::nullopt;
  watch.tell(Stage::network, 0);
  ProvisionalPlan provisional = settle_targets(cell, lay_plan(cell, *choice));
  std::vector<Link> links;
  if (choice->ties.are_asked()) links = links_between(choice->ties, choice->chosen);
  return finish_plan(cell, *choice, std::move(provisional), std::move(links));
}

}  // namespace standpoint
