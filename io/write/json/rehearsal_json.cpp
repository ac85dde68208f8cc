#include "io/write/json/rehearsal_json.h"

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"

namespace standpoint {
namespace {

Json feature_object(const Scene& scene, const FeatureSpread& feature) {
  Json object;
  object["name"] = json::text(scene.features[feature.feature.index].name);
  object["direction"] = json::direction(feature.direction);
  object["predicted"] = json::length(scene, feature.predicted);
  object["spread"] = json::length(scene, feature.spread);
  object["ratio"] = json::number(feature.ratio);
  object["is_within"] = feature.is_within;
  return object;
}

Json blunder_object(const Scene& scene, const Plan& plan, const BlunderCatch& blunder) {
  Json object;
  const bool is_swap = blunder.kind == BlunderKind::swapped;
  object["kind"] = is_swap ? "swapped" : "moved";
  object["nests"] = Json::array({json::text(scene.nests[blunder.nest].name)});
  if (is_swap) object["nests"].push_back(json::text(scene.nests[blunder.other].name));
  object["station"] = json::text(plan.stations[blunder.station].name);
  object["size"] = json::length(scene, blunder.size);
  object["flagged_by_sum"] = json::number(blunder.flagged_global);
  object["flagged_by_residual"] = json::number(blunder.flagged_local);
  object["named"] = json::number(blunder.named);
  object["worst_shift"] = json::length(scene, blunder.worst_shift);
  return object;
}

}  // namespace

std::string rehearsal_json(const Scene& scene, const Plan& plan, const Rehearsal& rehearsal) {
  Json object;
  object["format"] = "standpoint-rehearsal";
  object["version"] = 1;
  object["scene"] = json::text(scene.name);
  object["units"] = json::text(scene.units);
  object["trials"] = rehearsal.order.trials;
  object["seed"] = rehearsal.order.seed;
  object["freedoms"] = rehearsal.degrees_of_freedom;
  object["ratio_bounds"] =
      Json::array({json::number(rehearsal.ratio_low), json::number(rehearsal.ratio_high)});
  object["mean_square_sum"] = json::number(rehearsal.mean_square_sum);
  object["levels"] = {{"sum", rehearsal.order.global_level},
                      {"residual", rehearsal.order.local_level}};
  object["false_alarms"] = {{"sum", json::number(rehearsal.flagged_global)},
                            {"residual", json::number(rehearsal.flagged_local)}};
  object["features"] = Json::array();
  for (const FeatureSpread& feature : rehearsal.features)
    object["features"].push_back(feature_object(scene, feature));
  object["blunder_trials"] = std::min(rehearsal.order.blunder_trials, rehearsal.order.trials);
  object["blunders"] = Json::array();
  for (const BlunderCatch& blunder : rehearsal.blunders)
    object["blunders"].push_back(blunder_object(scene, plan, blunder));
  return json::write(object);
}

}  // namespace standpoint
