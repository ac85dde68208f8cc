#include "io/standing_place.h"

#include <algorithm>

#include <fmt/format.h>

namespace standpoint {

tl::expected<Vec3, Faults> standing_place(const Request& request, const Scene& scene) {
  if (request.at) return Vec3(*request.at * scene.mm_per_unit);
  const auto found =
      std::find_if(scene.fixed_stations.begin(), scene.fixed_stations.end(),
                   [&](const FixedStation& station) { return station.name == *request.station; });
  if (found != scene.fixed_stations.end()) return found->at;
  std::vector<std::string> names;
  for (const FixedStation& station : scene.fixed_stations) names.push_back(station.name);
  return tl::unexpected(Faults{
      {"--station", *request.station,
       names.empty() ? "the scene has no fixed places; use --at X,Y,Z"
                     : fmt::format("a fixed place of the scene: {}", fmt::join(names, ", "))}});
}

}  // namespace standpoint
