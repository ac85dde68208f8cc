#include "io/write/json/why_json.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/names.h"
#include "io/write/json/measured_json.h"
#include "io/write/json/why_plan_json.h"
#include "io/write/words/why_words.h"

namespace standpoint {
namespace {

Json subjects(const Scene& scene, const std::vector<Subject>& all) {
  Json list = Json::array();
  for (const Subject& subject : all) {
    const bool is_feature = std::holds_alternative<FeatureId>(subject);
    Json object;
    object[is_feature ? "feature" : "nest"] =
        json::text(is_feature ? scene.features[std::get<FeatureId>(subject).index].name
                              : scene.nests[std::get<NestId>(subject).index].name);
    list.push_back(std::move(object));
  }
  return list;
}

Json obstruction(const Scene& scene, const Obstruction& body) {
  Json object;
  object["body"] = json::text(scene.bodies[body.body.index].name);
  object["face"] = body.face ? json::text(*body.face) : Json(nullptr);
  object["distance"] = json::length(scene, body.distance);
  object["margin"] = json::length(scene, body.margin);
  object["at"] = json::place(scene, body.at);
  object["side"] = body.side.isZero() ? Json(nullptr) : json::direction(body.side);
  object["stops"] = body.stops;
  return object;
}

Json obstructions(const Scene& scene, const std::vector<Obstruction>& bodies) {
  Json list = Json::array();
  for (const Obstruction& body : bodies) list.push_back(obstruction(scene, body));
  return list;
}

Json touch_object(const Scene& scene, const ExplainedTouch& touch) {
  Json object;
  object["at"] = json::place(scene, touch.mark.at);
  object["verdict"] = verdict_name(touch.mark.verdict);
  object["target"] =
      touch.mark.best ? json::text(target_name(scene, touch.mark.best->target)) : Json(nullptr);
  object["margin"] = json::length(scene, touch.mark.margin);
  if (touch.mark.best && touch.mark.best->shank_direction) {
    object["direction"] = json::direction(*touch.mark.best->shank_direction);
  }
  object["causes"] = Json::array();
  for (const ExplainedCause& explained : touch.causes) {
    Json cause = json::cause(scene, explained.cause);
    cause["bodies"] = obstructions(scene, explained.bodies);
    object["causes"].push_back(std::move(cause));
  }
  object["grazes"] = obstructions(scene, touch.grazes);
  return object;
}

Json cure_object(const Scene& scene, const Cure& cure) {
  Json object;
  object["kind"] = cure_name(cure.kind);
  object["sentence"] = json::text(cure_sentence(scene, cure));
  object["station"] = json::place(scene, cure.station);
  json::add_up(cure.up, object);
  object["shift"] = json::place(scene, cure.shift);
  object["body"] = cure.body ? json::text(scene.bodies[cure.body->index].name) : Json(nullptr);
  object["name"] = cure.name.empty() ? Json(nullptr) : json::text(cure.name);
  object["verdict"] = verdict_name(cure.verdict);
  object["target"] = cure.target ? json::text(target_name(scene, *cure.target)) : Json(nullptr);
  object["direction"] =
      cure.shank_direction ? json::direction(*cure.shank_direction) : Json(nullptr);
  object["shank_clearance"] = json::length(scene, cure.shank_clearance);
  object["head_clearance"] = json::length(scene, cure.head_clearance);
  object["margin"] = json::length(scene, cure.margin);
  object["gained"] = subjects(scene, cure.effect.gained);
  object["lost"] = subjects(scene, cure.effect.lost);
  return object;
}

Json steadiness_or_null(const Scene& scene, const std::optional<Steadiness>& steadiness) {
  if (!steadiness) return nullptr;
  Json object;
  object["proved"] = json::length(scene, steadiness->proved);
  object["breaks"] = steadiness->breaks ? json::place(scene, *steadiness->breaks) : Json(nullptr);
  object["tried_to"] = json::length(scene, steadiness->longest);
  object["directions"] = steadiness->directions;
  object["width"] = json::length(scene, steadiness->width);
  return object;
}

}  // namespace

std::string why_json(const WhyAnswer& answer) {
  const Scene& scene = answer.cell.scene();
  const Diagnosis& diagnosis = answer.diagnosis;
  Json object;
  object["format"] = "standpoint-why";
  object["version"] = 1;
  object["scene"] = json::text(scene.name);
  object["units"] = json::text(scene.units);
  object["at"] = json::place(scene, diagnosis.station);
  json::add_up(diagnosis.up, object);
  if (answer.place.measured) object["measured"] = json::measured(scene, answer.place);
  object["subject"] = subjects(scene, {diagnosis.subject}).front();
  object["verdict"] = verdict_name(diagnosis.mark.verdict);
  object["margin"] = json::length(scene, diagnosis.mark.margin);
  if (answer.plan) object["plan"] = json::why_plan(scene, *answer.plan, diagnosis.subject);
  object["touches"] = Json::array();
  for (const ExplainedTouch& touch : diagnosis.touches) {
    object["touches"].push_back(touch_object(scene, touch));
  }
  object["cures"] = Json::array();
  for (const Cure& cure : diagnosis.cures.cures) {
    object["cures"].push_back(cure_object(scene, cure));
  }
  if (diagnosis.cures.nearest_miss) {
    Json& miss = object["nearest_miss"] = Json::object();
    miss["at"] = json::place(scene, *diagnosis.cures.nearest_miss);
    json::add_up(diagnosis.cures.nearest_up, miss);
    miss["margin"] = json::length(scene, diagnosis.cures.nearest_margin);
  } else {
    object["nearest_miss"] = nullptr;
  }
  object["station_shift"] = steadiness_or_null(scene, diagnosis.station_shift);
  object["part_shift"] = steadiness_or_null(scene, diagnosis.part_shift);
  return json::write(object);
}

}  // namespace standpoint
