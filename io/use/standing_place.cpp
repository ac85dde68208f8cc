#include "io/use/standing_place.h"

#include <algorithm>

#include <fmt/format.h>

#include "io/read/measured/measured_csv.h"
#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"
#include "io/use/set_up_faults.h"

namespace standpoint {
namespace {

Stance stance_at(const FixedStation& place) {
  return {place.at, place.instrument_ups.front()};
}
Stance stance_at(const ReadPlan::Station& station) {
  return {station.at, station.up};
}

template <class Named>
std::optional<Stance> place_named(const std::vector<Named>& all, const std::string& name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() ? std::nullopt : std::optional(stance_at(*found));
}

/// The first names: somebody who mistyped one of hundreds is helped by the nearest, not by all.
template <class Named>
std::string names_of(const std::vector<Named>& all) {
  constexpr std::size_t kMostNamed = 12;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < all.size() && i < kMostNamed; ++i) names.push_back(all[i].name);
  const std::string text = fmt::format("{}", fmt::join(names, ", "));
  return all.size() <= kMostNamed ? text
                                  : fmt::format("{} and {} more", text, all.size() - kMostNamed);
}

std::string nearest_station(const std::string& name, const Scene& scene, const ReadPlan* plan) {
  std::vector<std::string_view> names;
  for (const FixedStation& station : scene.fixed_stations) names.push_back(station.name);
  if (plan != nullptr)
    for (const ReadPlan::Station& station : plan->stations) names.push_back(station.name);
  return std::string(nearest_name(name, names));
}

/// What --station may be, for somebody who typed something else.
std::string stations_to_name(const Scene& scene, const ReadPlan* plan) {
  std::string fixed, planned;
  if (!scene.fixed_stations.empty())
    fixed = "a fixed place of the scene: " + names_of(scene.fixed_stations);
  if (plan != nullptr && !plan->stations.empty())
    planned = "a station of the plan: " + names_of(plan->stations);
  if (fixed.empty() && planned.empty())
    return "--at X,Y,Z instead, as the scene has no fixed places";
  return fixed.empty() || planned.empty() ? fixed + planned : fixed + "; or " + planned;
}

/// What --at or --station say; nothing where neither is given.
tl::expected<std::optional<Stance>, Faults> stated_place(const Request& request, const Scene& scene,
                                                         const ReadPlan* plan) {
  const auto as_asked = [&](Stance stance) {
    return Stance(stance.at, request.up.value_or(stance.up));
  };
  if (request.at) return as_asked(Vec3(*request.at * scene.mm_per_unit));
  if (!request.station) return std::nullopt;
  const auto fixed = place_named(scene.fixed_stations, *request.station);
  const auto planned =
      plan != nullptr ? place_named(plan->stations, *request.station) : std::nullopt;
  const auto fault = [&](const std::string& allowed, const std::string& nearest) {
    return tl::unexpected(Faults{
        {"--station", short_text(*request.station), allowed, FaultKind::unknown_name, nearest}});
  };
  if (fixed && planned && fixed->at != planned->at)
    return fault(
        "one place: a fixed place of the scene and another station of the plan both have "
        "this name; use --at X,Y,Z",
        "");
  // The plan knows in which of several ways the instrument stands at a fixed place.
  if (fixed || planned) return as_asked(planned ? *planned : *fixed);
  return fault(stations_to_name(scene, plan), nearest_station(*request.station, scene, plan));
}

/// What --measured tells: fills `place`.
Faults measure(const std::filesystem::path& file, const Scene& scene, StandingPlace& place) {
  const auto read = read_measured(file, scene);
  if (!read) return read.error();
  if (read->has_features()) {
    PartSetUpResult result = stand_by_part(scene, read->rows);
    if (!result.set_up) return part_set_up_faults(scene, *read, result.faults);
    place.measured = std::move(*result.set_up);
    place.part = std::move(result.part);
  } else {
    SetUpResult result = resect(scene, read->seen);
    if (!result.set_up) return set_up_faults(scene, *read, result.faults);
    place.measured = std::move(*result.set_up);
  }
  const Stance real = stance_of(*place.measured);
  place.at = real.at;
  place.up = real.up;
  if (!read->again.empty())
    place.movement =
        find_movement(scene, read->seen, read->again, place.measured->world_from_instrument);
  return {};
}

}  // namespace

tl::expected<StandingPlace, Faults> standing_place(const Request& request, const Scene& scene,
                                                   const ReadPlan* plan) {
  StandingPlace place;
  Faults faults;
  const auto stated = stated_place(request, scene, plan);
  if (!stated) faults = stated.error();
  if (request.measured) {
    const Faults wrong = measure(*request.measured, scene, place);
    faults.insert(faults.end(), wrong.begin(), wrong.end());
  }
  if (!faults.empty()) return tl::unexpected(std::move(faults));
  if (!place.measured) {
    place.at = (*stated)->at;
    place.up = (*stated)->up;
  } else if (*stated) {
    place.planned = PlannedPlace{(*stated)->at, {}, (*stated)->up};
  }
  return place;
}

}  // namespace standpoint
