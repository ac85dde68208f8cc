#include "io/write/json/sight_json.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/names.h"

namespace standpoint {
namespace {

Json target_or_null(const Scene& scene, std::optional<TargetId> target) {
  return target ? json::text(target_name(scene, *target)) : Json(nullptr);
}

/// What a touch and a nest have in common.
void add_mark(const Scene& scene, const TouchMark& mark, Json& object) {
  object["verdict"] = verdict_name(mark.verdict);
  object["target"] = mark.best ? target_or_null(scene, mark.best->target) : Json(nullptr);
  object["margin"] = json::length(scene, mark.margin);
  if (mark.best && mark.best->shank_direction)
    object["direction"] = json::direction(*mark.best->shank_direction);
  object["causes"] = json::causes(scene, mark.causes);
}

Json feature_object(const Scene& scene, const FeatureMark& mark) {
  Json touches = Json::array();
  for (std::size_t t = 0; t < mark.touches.size(); ++t) {
    const TouchMark& touch = mark.touches[t];
    Json object;
    object["at"] = json::place(scene, touch.at);
    object["normal"] = json::direction(touch.normal);
    object["optical_centre"] = json::optical_centre(scene, mark, t);
    add_mark(scene, touch, object);
    touches.push_back(std::move(object));
  }
  const Feature& feature = scene.features[mark.feature.index];
  Json object;
  object["name"] = json::text(feature.name);
  object["required"] = feature.required;
  object["verdict"] = verdict_name(mark.verdict);
  object["target"] = target_or_null(scene, mark.target);
  object["margin"] = json::length(scene, mark.margin);
  object["way"] = way_name(mark.way);
  object["touches"] = std::move(touches);
  return object;
}

Json nest_object(const Scene& scene, const NestMark& mark) {
  Json object;
  object["name"] = json::text(scene.nests[mark.nest.index].name);
  object["visible"] = mark.mark.verdict != Verdict::blocked;
  add_mark(scene, mark.mark, object);
  return object;
}

}  // namespace

std::string sight_json(const Scene& scene, const Sight& sight) {
  return sight_json(scene, sight, Json());
}

std::string sight_json(const Scene& scene, const Sight& sight, const Json& measured) {
  Json object;
  object["format"] = "standpoint-sight";
  object["version"] = 1;
  object["scene"] = json::text(scene.name);
  object["units"] = json::text(scene.units);
  object["at"] = json::place(scene, sight.at);
  json::add_up(sight.up, object);
  if (!measured.is_null()) object["measured"] = measured;
  object["features"] = Json::array();
  for (const FeatureMark& mark : sight.features)
    object["features"].push_back(feature_object(scene, mark));
  object["nests"] = Json::array();
  for (const NestMark& mark : sight.nests) object["nests"].push_back(nest_object(scene, mark));
  return json::write(object);
}

}  // namespace standpoint
