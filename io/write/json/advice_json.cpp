#include "io/write/json/advice_json.h"

#include <nlohmann/json.hpp>

#include "io/words/advice_words.h"
#include "io/words/json_parts.h"

namespace standpoint {
namespace {

const std::string& feature_name(const Scene& scene, FeatureId feature) {
  return scene.features[feature.index].name;
}

Json after_object(const Scene& scene, const WhatIf& after) {
  Json object;
  object["worst_expanded"] =
      after.worst ? json::length(scene, after.worst->expanded) : Json(nullptr);
  object["worst_feature"] =
      after.worst ? json::text(feature_name(scene, after.worst->feature)) : Json(nullptr);
  if (after.most_changed) {
    object["most_changed"] = json::text(feature_name(scene, after.most_changed->feature));
    object["ratio"] = json::number(after.ratio);
  }
  return object;
}

Json contributor_object(const Scene& scene, const WorstContributor& contributor) {
  Json object;
  object["feature"] = json::text(feature_name(scene, contributor.uncertainty.feature));
  object["expanded"] = json::length(scene, contributor.uncertainty.expanded);
  object["direction"] = json::direction(contributor.direction);
  object["reason"] = reason_name(contributor.reason);
  for (const Reason reason :
       {Reason::range, Reason::stylus, Reason::weak_tie, Reason::extrapolation})
    object["shares"][std::string(reason_name(reason))] =
        json::number(contributor.shares[static_cast<std::size_t>(reason)]);
  object["text"] = json::text(contributor_sentence(scene, contributor));
  return object;
}

Json practice_object(const Scene& scene, const Plan& plan, const Practice& practice) {
  Json object;
  object["stations"] = Json::array();
  for (const StationPractice& station : practice.stations) {
    Json entry;
    entry["name"] = json::text(plan.stations[station.station.index].name);
    entry["nests"] = station.nests;
    entry["most_shared"] = station.most_shared;
    entry["with"] =
        station.with ? json::text(plan.stations[station.with->index].name) : Json(nullptr);
    object["stations"].push_back(std::move(entry));
  }
  object["fill"] = Json::array();
  for (const auto& fill : practice.fill)
    object["fill"].push_back(fill ? json::number(*fill) : Json(nullptr));
  object["longest_reach"] = json::length(scene, practice.longest_reach);
  object["farthest"] =
      practice.farthest ? json::text(feature_name(scene, *practice.farthest)) : Json(nullptr);
  return object;
}

Json station_object(const Scene& scene, const StationGain& gain) {
  Json object;
  object["at"] = json::place(scene, gain.at);
  json::add_up(gain.up, object);
  object["zone"] = gain.zone ? json::text(scene.zones[*gain.zone].name) : Json(nullptr);
  if (!gain.name.empty()) object["name"] = json::text(gain.name);
  object["worst_expanded"] = json::length(scene, gain.worst);
  return object;
}

}  // namespace

Json advice_object(const Scene& scene, const Plan& plan, const Advice& advice) {
  Json object;
  object["worst"] = Json::array();
  for (const WorstContributor& contributor : advice.worst)
    object["worst"].push_back(contributor_object(scene, contributor));
  object["without_nest"] = Json::array();
  for (const NestLoss& loss : advice.losses) {
    Json entry;
    entry["nest"] = json::text(scene.nests[loss.nest.index].name);
    entry.update(after_object(scene, loss.after));
    entry["text"] = json::text(loss_sentence(scene, plan, advice, loss));
    object["without_nest"].push_back(std::move(entry));
  }
  object["best_nest"] = nullptr;
  if (advice.best_nest) {
    Json entry;
    entry["nest"] = json::text(advice.best_nest->nest.name);
    entry["at"] = json::place(scene, advice.best_nest->nest.at);
    entry.update(after_object(scene, advice.best_nest->after));
    object["best_nest"] = std::move(entry);
  }
  object["best_station"] =
      advice.best_station ? station_object(scene, *advice.best_station) : Json(nullptr);
  object["tried"] = {{"nests", advice.nests_tried}, {"stations", advice.stations_tried}};
  object["practice"] = practice_object(scene, plan, advice.practice);
  return object;
}

}  // namespace standpoint
