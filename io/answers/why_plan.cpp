#include "io/answers/why_plan.h"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

/// How a station of the plan sees the subject.
struct Seen {
  Verdict verdict = Verdict::blocked;
  std::optional<TargetId> target;
  std::optional<double> margin;
};

Seen seen_from(const PlannedStation& station, Subject subject) {
  if (const auto* feature = std::get_if<FeatureId>(&subject)) {
    const FeatureMark& mark = station.sight.features[feature->index];
    return {mark.verdict, mark.target, mark.margin};
  }
  const TouchMark& mark = station.sight.nests[std::get<NestId>(subject).index].mark;
  return {mark.verdict, mark.best ? std::optional(mark.best->target) : std::nullopt, mark.margin};
}

/// The stations that the plan has for the subject: one for a feature, all that see a nest.
std::vector<StationId> stations_for(const WhyPlan& plan, Subject subject) {
  std::vector<StationId> stations;
  if (const auto* feature = std::get_if<FeatureId>(&subject)) {
    const PlannedFeature& planned = plan.plan.features[feature->index];
    if (planned.station) stations.push_back(*planned.station);
    return stations;
  }
  for (std::size_t s = 0; s < plan.plan.stations.size(); ++s) {
    if (seen_from(plan.plan.stations[s], subject).verdict != Verdict::blocked)
      stations.emplace_back(s);
  }
  return stations;
}

}  // namespace

tl::expected<WhyPlan, Faults> look_at_plan(const Cell& cell, const ReadPlan& read,
                                           const Request& request, const Vec3& at) {
  auto plan = look_again(cell, read);
  if (!plan) return tl::unexpected(std::move(plan.error()));
  WhyPlan result{std::move(*plan), std::nullopt};
  for (std::size_t s = 0; s < result.plan.stations.size(); ++s) {
    const PlannedStation& station = result.plan.stations[s];
    if (station.name == request.station || (!request.station && station.at == at))
      result.asked = StationId(s);
  }
  return result;
}

std::vector<OtherPlace> places_beside(const WhyPlan& plan,
                                      const std::vector<OtherPlace>& candidates) {
  std::vector<OtherPlace> places;
  const auto& stations = plan.plan.stations;
  for (std::size_t s = 0; s < stations.size(); ++s) {
    if (plan.asked != StationId(s)) places.push_back({stations[s].at, stations[s].name, true});
  }
  for (const OtherPlace& candidate : candidates) {
    const bool is_planned =
        std::any_of(stations.begin(), stations.end(),
                    [&](const PlannedStation& station) { return station.at == candidate.at; });
    if (!is_planned) places.push_back(candidate);
  }
  return places;
}

void print_why_plan(const Scene& scene, const WhyPlan& plan, Subject subject, std::ostream& out) {
  std::vector<std::string> names;
  for (const StationId id : stations_for(plan, subject))
    names.push_back(plan.plan.stations[id.index].name);
  const std::string asked =
      plan.asked ? ", where this is " + plan.plan.stations[plan.asked->index].name : "";
  out << "\nIn the plan"
      << for_terminal(asked + (names.empty() ? ": measured from no station"
                                             : ": measured from " + list_of(names)))
      << '\n';
  for (std::size_t s = 0; s < plan.plan.stations.size(); ++s) {
    if (plan.asked == StationId(s)) continue;
    const PlannedStation& station = plan.plan.stations[s];
    const Seen seen = seen_from(station, subject);
    std::string line = fmt::format("seen from {} at ({}) {}: {}", station.name,
                                   place_text(scene, station.at, step::kPlace), scene.units,
                                   verdict_words(seen.verdict));
    if (seen.target) line += ", " + target_name(scene, *seen.target);
    if (seen.margin) {
      const std::string margin = length_text(scene, *seen.margin, step::kMargin);
      if (margin != "-") line += ", margin " + margin + " " + scene.units;
    }
    out << "  - " << for_terminal(line) << '\n';
  }
}

namespace json {

Json why_plan(const Scene& scene, const WhyPlan& plan, Subject subject) {
  Json object;
  const auto& stations = plan.plan.stations;
  object["station"] = plan.asked ? text(stations[plan.asked->index].name) : Json(nullptr);
  object["measured_from"] = Json::array();
  for (const StationId id : stations_for(plan, subject))
    object["measured_from"].push_back(text(stations[id.index].name));
  object["others"] = Json::array();
  for (std::size_t s = 0; s < stations.size(); ++s) {
    if (plan.asked == StationId(s)) continue;
    const Seen seen = seen_from(stations[s], subject);
    Json other;
    other["name"] = text(stations[s].name);
    other["at"] = place(scene, stations[s].at);
    other["verdict"] = verdict_name(seen.verdict);
    other["target"] = seen.target ? text(target_name(scene, *seen.target)) : Json(nullptr);
    other["margin"] = length(scene, seen.margin);
    object["others"].push_back(std::move(other));
  }
  return object;
}

}  // namespace json

}  // namespace standpoint
