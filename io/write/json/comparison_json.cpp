#include "io/write/json/comparison_json.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/names.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

/// The lengths of both plans are written in the units of the one after.
Scene units_of(const PlanRecord& plan) {
  Scene scene;
  scene.units = plan.units;
  scene.mm_per_unit = plan.mm_per_unit;
  return scene;
}

Json names(const std::vector<std::string>& texts) {
  Json list = Json::array();
  for (const std::string& text : texts) list.push_back(json::text(text));
  return list;
}

Json from_to(Json from, Json to) {
  return {{"from", std::move(from)}, {"to", std::move(to)}};
}

Json counts(const PlanRecord& plan) {
  std::size_t measured = 0, required = 0, required_measured = 0, full_target = 0;
  for (const PlanRecord::Feature& feature : plan.features) {
    measured += is_measured(feature) ? 1 : 0;
    required += feature.required ? 1 : 0;
    required_measured += feature.required && is_measured(feature) ? 1 : 0;
    full_target += feature.verdict == Verdict::full_target ? 1 : 0;
  }
  return {{"features", plan.features.size()},
          {"measured", measured},
          {"required", required},
          {"required_measured", required_measured},
          {"full_target", full_target}};
}

Json station_object(const Scene& scene, const PlanRecord::Station& station) {
  Json object{{"name", json::text(station.name)}, {"at", json::place(scene, station.at)}};
  json::add_up(station.up, object);
  return object;
}

Json stations_object(const Scene& scene, const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  Json object{{"kept", Json::array()}, {"removed", Json::array()}, {"added", Json::array()}};
  for (const KeptStation& kept : comparison.kept) {
    Json entry = from_to(station_object(scene, before.stations[kept.before]),
                         station_object(scene, after.stations[kept.after]));
    entry["moved"] = json::length(scene, kept.moved);
    object["kept"].push_back(std::move(entry));
  }
  for (const std::size_t station : comparison.removed)
    object["removed"].push_back(station_object(scene, before.stations[station]));
  for (const std::size_t station : comparison.added)
    object["added"].push_back(station_object(scene, after.stations[station]));
  return object;
}

Json feature_object(const Scene& scene, const PlanRecord& plan,
                    const PlanRecord::Feature& feature) {
  Json object{{"verdict", verdict_name(feature.verdict)},
              {"station", feature.stations.empty() || feature.is_shared
                              ? Json(nullptr)
                              : json::text(plan.stations[feature.stations[0]].name)}};
  if (feature.is_shared) {
    for (const std::size_t station : feature.stations)
      object["stations"].push_back(json::text(plan.stations[station].name));
  } else if (feature.stations.size() > 1) {
    object["also_from"] = Json::array();
    for (std::size_t i = 1; i < feature.stations.size(); ++i)
      object["also_from"].push_back(json::text(plan.stations[feature.stations[i]].name));
  }
  object["target"] = feature.target ? json::text(*feature.target) : Json(nullptr);
  object["margin"] = json::length(scene, feature.margin);
  object["expanded"] = json::length(scene, feature.expanded);
  return object;
}

Json change_object(const Scene& scene, const CompareAnswer& answer, const FeatureChange& change) {
  const PlanRecord::Feature& old = answer.before.features[change.before];
  const PlanRecord::Feature& now = answer.after.features[change.after];
  Json what = Json::array();
  if (change.verdict) what.push_back("verdict");
  if (change.station) what.push_back("station");
  if (change.target) what.push_back("target");
  if (change.margin) what.push_back("margin");
  if (change.uncertainty) what.push_back("uncertainty");
  return {{"name", json::text(old.name)},
          {"what", std::move(what)},
          {"from", feature_object(scene, answer.before, old)},
          {"to", feature_object(scene, answer.after, now)}};
}

Json ends(const PlanRecord& plan, const PlanRecord::Link& link) {
  return Json::array(
      {json::text(plan.stations[link.a].name), json::text(plan.stations[link.b].name)});
}

Json link_object(const PlanRecord& plan, std::size_t index) {
  const PlanRecord::Link& link = plan.links[index];
  return {{"stations", ends(plan, link)}, {"nests", names(link.nests)}};
}

Json ties_object(const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  Json object{{"tied", from_to(is_tied(before), is_tied(after))},
              {"lost", Json::array()},
              {"gained", Json::array()},
              {"changed", Json::array()}};
  for (const std::size_t link : comparison.lost_links)
    object["lost"].push_back(link_object(before, link));
  for (const std::size_t link : comparison.gained_links)
    object["gained"].push_back(link_object(after, link));
  for (const LinkChange& change : comparison.changed_links) {
    object["changed"].push_back({{"stations", from_to(ends(before, before.links[change.before]),
                                                      ends(after, after.links[change.after]))},
                                 {"lost", names(change.lost)},
                                 {"gained", names(change.gained)}});
  }
  return object;
}

}  // namespace

std::string comparison_json(const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  const Scene scene = units_of(after);
  Json object;
  object["format"] = "standpoint-comparison";
  object["version"] = 1;
  object["units"] = json::text(after.units);
  object["scene"] = from_to(json::text(before.scene), json::text(after.scene));
  object["counts"] = from_to(counts(before), counts(after));
  object["steps"] = {{"place", json::length(scene, tolerance::kSamePlace)},
                     {"move", json::length(scene, tolerance::kFarthestMove)},
                     {"margin", json::length(scene, tolerance::kMarginChange)},
                     {"uncertainty", json::length(scene, tolerance::kUncertaintyChange)}};
  object["gained"] = names(comparison.gained);
  object["lost"] = names(comparison.lost);
  object["only_in"] = from_to(names(comparison.only_before), names(comparison.only_after));
  object["changed"] = Json::array();
  for (const FeatureChange& change : comparison.changed)
    object["changed"].push_back(change_object(scene, answer, change));
  object["stations"] = stations_object(scene, answer);
  object["ties"] = ties_object(answer);
  return json::write(object);
}

}  // namespace standpoint
