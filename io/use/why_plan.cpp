#include "io/use/why_plan.h"

#include <algorithm>

namespace standpoint {

SubjectSeen seen_from(const PlannedStation& station, Subject subject) {
  if (const auto* feature = std::get_if<FeatureId>(&subject)) {
    const FeatureMark& mark = station.sight.features[feature->index];
    return {mark.verdict, mark.target, mark.margin};
  }
  const TouchMark& mark = station.sight.nests[std::get<NestId>(subject).index].mark;
  return {mark.verdict, mark.best ? std::optional(mark.best->target) : std::nullopt, mark.margin};
}

std::vector<StationId> stations_for(const WhyPlan& plan, Subject subject) {
  std::vector<StationId> stations;
  if (const auto* feature = std::get_if<FeatureId>(&subject)) {
    const PlannedFeature& planned = plan.plan.features[feature->index];
    if (planned.station) stations.push_back(*planned.station);
    stations.insert(stations.end(), planned.stations.begin(), planned.stations.end());
    return stations;
  }
  for (std::size_t s = 0; s < plan.plan.stations.size(); ++s) {
    if (seen_from(plan.plan.stations[s], subject).verdict != Verdict::blocked)
      stations.emplace_back(s);
  }
  return stations;
}

std::vector<TouchesFrom> shared_touches(const WhyPlan& plan, Subject subject) {
  std::vector<TouchesFrom> parts;
  const auto* feature = std::get_if<FeatureId>(&subject);
  if (feature == nullptr) return parts;
  const PlannedFeature& planned = plan.plan.features[feature->index];
  if (planned.stations.empty()) return parts;
  for (const StationId station : planned.stations) parts.push_back({station, *planned.target, {}});
  parts.push_back({std::nullopt, *planned.target, {}});
  for (std::size_t t = 0; t < planned.touch_stations.size(); ++t) {
    const auto part = std::find_if(parts.begin(), parts.end(), [&](const TouchesFrom& from) {
      return from.station == planned.touch_stations[t];
    });
    part->touches.push_back(t);
  }
  if (parts.back().touches.empty()) parts.pop_back();
  return parts;
}

tl::expected<WhyPlan, Faults> look_at_plan(const Cell& cell, const ReadPlan& read,
                                           const Request& request, const Stance& stance) {
  auto plan = look_again(cell, read);
  if (!plan) return tl::unexpected(std::move(plan.error()));
  WhyPlan result{std::move(*plan), std::nullopt};
  for (std::size_t s = 0; s < result.plan.stations.size(); ++s) {
    const PlannedStation& station = result.plan.stations[s];
    if (station.name == request.station || (!request.station && stance_of(station) == stance))
      result.asked = StationId(s);
  }
  return result;
}

std::vector<OtherPlace> places_beside(const WhyPlan& plan,
                                      const std::vector<OtherPlace>& candidates) {
  std::vector<OtherPlace> places;
  const auto& stations = plan.plan.stations;
  for (std::size_t s = 0; s < stations.size(); ++s) {
    if (plan.asked != StationId(s))
      places.push_back({stations[s].at, stations[s].name, true, stations[s].up});
  }
  for (const OtherPlace& candidate : candidates) {
    const bool is_planned = std::any_of(
        stations.begin(), stations.end(),
        [&](const PlannedStation& station) { return stance_of(station) == stance_of(candidate); });
    if (!is_planned) places.push_back(candidate);
  }
  return places;
}

}  // namespace standpoint
