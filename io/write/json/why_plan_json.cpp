#include "io/write/json/why_plan_json.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/names.h"

namespace standpoint::json {

Json why_plan(const Scene& scene, const WhyPlan& plan, Subject subject) {
  Json object;
  const auto& stations = plan.plan.stations;
  object["station"] = plan.asked ? text(stations[plan.asked->index].name) : Json(nullptr);
  object["measured_from"] = Json::array();
  for (const StationId id : stations_for(plan, subject))
    object["measured_from"].push_back(text(stations[id.index].name));
  for (const TouchesFrom& part : shared_touches(plan, subject)) {
    Json entry;
    entry["station"] = part.station ? text(stations[part.station->index].name) : Json(nullptr);
    entry["touches"] = part.touches;
    object["shared"].push_back(std::move(entry));
  }
  object["others"] = Json::array();
  for (std::size_t s = 0; s < stations.size(); ++s) {
    if (plan.asked == StationId(s)) continue;
    const SubjectSeen seen = seen_from(stations[s], subject);
    Json other;
    other["name"] = text(stations[s].name);
    other["at"] = place(scene, stations[s].at);
    add_up(stations[s].up, other);
    other["verdict"] = verdict_name(seen.verdict);
    other["target"] = seen.target ? text(target_name(scene, *seen.target)) : Json(nullptr);
    other["margin"] = length(scene, seen.margin);
    object["others"].push_back(std::move(other));
  }
  return object;
}

}  // namespace standpoint::json
