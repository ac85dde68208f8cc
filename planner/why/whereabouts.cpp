#include "planner/why/whereabouts.h"

#include <algorithm>

#include "planner/stations/zone_polygon.h"

namespace standpoint {

bool Whereabouts::may_stand_at(const Scene& scene, const Vec2& at) const {
  return zone && is_place_of(scene.zones[*zone], at) && !keep_out_under(scene, at);
}

Whereabouts whereabouts(const Scene& scene, const Vec3& station, double free_height) {
  for (std::uint32_t i = 0; i < scene.zones.size(); ++i) {
    const Zone& zone = scene.zones[i];
    if (zone.heights.empty() || station.z() <= zone.floor) continue;
    if (!is_place_of(zone, station.head<2>())) continue;
    const auto [low, high] = std::minmax_element(zone.heights.begin(), zone.heights.end());
    return {i,
            {std::min(zone.floor + *low, station.z()), std::max(zone.floor + *high, station.z())}};
  }
  return {std::nullopt, {station.z() - free_height, station.z() + free_height}};
}

}  // namespace standpoint
