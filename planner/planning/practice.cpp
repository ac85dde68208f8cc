#include <algorithm>

#include "planner/model/tolerances.h"
#include "planner/network/plan_network.h"
#include "planner/planning/practice.h"

namespace standpoint {
namespace {

StationPractice practice_of(const Plan& plan, std::size_t station) {
  StationPractice practice;
  practice.station = StationId(station);
  const std::vector<NestId>& own = plan.stations[station].nests;
  practice.nests = own.size();
  for (std::size_t other = 0; other < plan.stations.size(); ++other) {
    if (other == station) continue;
    const std::vector<NestId>& nests = plan.stations[other].nests;
    const auto shared =
        static_cast<std::size_t>(std::count_if(own.begin(), own.end(), [&](NestId n) {
          return std::find(nests.begin(), nests.end(), n) != nests.end();
        }));
    if (shared <= practice.most_shared) continue;
    practice.most_shared = shared;
    practice.with = StationId(other);
  }
  return practice;
}

}  // namespace

Practice look_at_practice(const Plan& plan, const PlanNetwork& network) {
  Practice practice;
  for (std::size_t s = 0; s < plan.stations.size(); ++s)
    practice.stations.push_back(practice_of(plan, s));
  Eigen::AlignedBox3d nests, touches;
  for (const NestObservation& o : network.input.observations)
    nests.extend(network.input.nests[o.nest]);
  for (const WatchedTouch& touch : network.touches) touches.extend(touch.reading.place);
  if (nests.isEmpty() || touches.isEmpty()) return practice;
  for (int axis = 0; axis < 3; ++axis)
    if (touches.sizes()[axis] > tolerance::kNoExtent)
      practice.fill[static_cast<std::size_t>(axis)] = nests.sizes()[axis] / touches.sizes()[axis];
  for (const WatchedTouch& touch : network.touches) {
    const double outside = nests.exteriorDistance(touch.reading.place);
    if (outside <= practice.longest_reach) continue;
    practice.longest_reach = outside;
    practice.farthest = touch.feature;
  }
  return practice;
}

}  // namespace standpoint
