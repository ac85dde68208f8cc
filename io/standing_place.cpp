#include "io/standing_place.h"

#include <algorithm>

#include <fmt/format.h>

#include "io/measured_csv.h"
#include "io/measured_words.h"

namespace standpoint {
namespace {

/// What --at or --station say; nothing where neither is given.
tl::expected<std::optional<Vec3>, Faults> stated_place(const Request& request, const Scene& scene) {
  if (request.at) return Vec3(*request.at * scene.mm_per_unit);
  if (!request.station) return std::nullopt;
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

tl::expected<RealStation, Faults> measured_place(const std::filesystem::path& file,
                                                 const Scene& scene) {
  const auto read = read_measured(file, scene);
  if (!read) return tl::unexpected(read.error());
  SetUpResult result = resect(scene, read->seen);
  if (!result.set_up) return tl::unexpected(set_up_faults(scene, *read, result.faults));
  return std::move(*result.set_up);
}

}  // namespace

tl::expected<StandingPlace, Faults> standing_place(const Request& request, const Scene& scene) {
  StandingPlace place;
  Faults faults;
  const auto stated = stated_place(request, scene);
  if (!stated) faults = stated.error();
  if (request.measured) {
    auto measured = measured_place(*request.measured, scene);
    if (measured) {
      place.at = measured->measuring_centre;
      place.measured = std::move(*measured);
    } else {
      faults.insert(faults.end(), measured.error().begin(), measured.error().end());
    }
  }
  if (!faults.empty()) return tl::unexpected(std::move(faults));
  if (!place.measured) {
    place.at = **stated;
  } else if (*stated) {
    place.planned = PlannedPlace{**stated, {}};
  }
  return place;
}

}  // namespace standpoint
