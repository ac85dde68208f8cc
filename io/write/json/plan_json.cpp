#include "io/write/json/plan_json.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/motion_words.h"
#include "io/words/names.h"
#include "io/words/words.h"
#include "io/write/json/advice_json.h"
#include "planner/network/alignment.h"
#include "planner/network/decision.h"
#include "planner/network/element_uncertainty.h"
#include "planner/network/plan_budget.h"

namespace standpoint {
namespace {

Json nest_names(const Scene& scene, const std::vector<NestId>& nests) {
  Json names = Json::array();
  for (const NestId nest : nests) names.push_back(json::text(scene.nests[nest.index].name));
  return names;
}

Json station_names(const Plan& plan, const std::vector<StationId>& stations) {
  Json names = Json::array();
  for (const StationId id : stations) names.push_back(json::text(plan.stations[id.index].name));
  return names;
}

Json station_name(const Plan& plan, const std::optional<StationId>& station) {
  return station ? json::text(plan.stations[station->index].name) : Json(nullptr);
}

Json station_object(const Scene& scene, const PlannedStation& station) {
  Json object;
  object["name"] = json::text(station.name);
  object["at"] = json::place(scene, station.at);
  json::add_up(station.up, object);
  object["zone"] = station.zone ? json::text(scene.zones[*station.zone].name) : Json(nullptr);
  object["nests"] = nest_names(scene, station.nests);
  object["pose_uncertainty"] = station.pose_covariance
                                   ? json::pose_covariance(scene, *station.pose_covariance)
                                   : Json(nullptr);
  return object;
}

/// The touches as the feature's target takes them from its station; where several stations share
/// it, each with its own.
Json touches_of(const Scene& scene, const Plan& plan, const PlannedFeature& planned,
                const FeatureMark& mark) {
  Json touches = Json::array();
  for (std::size_t t = 0; t < mark.touches.size(); ++t) {
    const TouchMark& touch = mark.touches[t];
    const Reached* reached = reached_by_target(mark, t);
    Json object;
    object["at"] = json::place(scene, touch.at);
    object["normal"] = json::direction(touch.normal);
    object["optical_centre"] = json::optical_centre(scene, mark, t);
    if (!planned.stations.empty())
      object["station"] = station_name(plan, planned.touch_stations[t]);
    object["verdict"] = verdict_name(reached != nullptr ? planned.verdict : Verdict::blocked);
    object["target"] =
        reached != nullptr ? json::text(target_name(scene, reached->target)) : Json(nullptr);
    object["margin"] = reached != nullptr ? json::length(scene, reached->margin) : Json(nullptr);
    if (reached != nullptr && reached->shank_direction)
      object["direction"] = json::direction(*reached->shank_direction);
    if (reached == nullptr) object["causes"] = json::causes(scene, touch.causes);
    const bool is_known =
        t < planned.touch_uncertainty.size() && planned.touch_uncertainty[t].has_value();
    object["uncertainty"] =
        is_known ? json::uncertainty(scene, *planned.touch_uncertainty[t]) : Json(nullptr);
    touches.push_back(std::move(object));
  }
  return touches;
}

Json nearest_miss(const Scene& scene, const Unreached& unreached) {
  Json object;
  object["at"] = unreached.at ? json::place(scene, *unreached.at) : Json(nullptr);
  json::add_up(unreached.up, object);
  Json touches = Json::array();
  for (const TouchMark& touch : unreached.mark.touches) {
    Json entry;
    entry["at"] = json::place(scene, touch.at);
    entry["verdict"] = verdict_name(touch.verdict);
    entry["margin"] = json::length(scene, touch.margin);
    entry["causes"] = json::causes(scene, touch.causes);
    touches.push_back(std::move(entry));
  }
  object["touches"] = std::move(touches);
  return object;
}

/// Where a measured deviation proves conformity (ISO 14253-1); null where no value can.
Json acceptance(const Scene& scene, double tolerance, double expanded) {
  const GuardedLimits limits = guarded_zone(tolerance, expanded);
  if (!limits.acceptance) return nullptr;
  return Json::array(
      {json::length(scene, limits.acceptance->low), json::length(scene, limits.acceptance->high)});
}

void add_uncertainty(const Scene& scene, const PlannedFeature& planned, Json& object) {
  const std::optional<double>& tolerance = scene.features[planned.feature.index].tolerance;
  object["uncertainty"] =
      planned.uncertainty ? json::uncertainty(scene, *planned.uncertainty) : Json(nullptr);
  if (planned.uncertainty)
    object["uncertainty"]["direction"] =
        json::direction(greatest_direction(planned.uncertainty->covariance));
  if (!tolerance) return;
  object["tolerance"] = json::length(scene, *tolerance);
  object["ratio"] = planned.uncertainty
                        ? json::number(*tolerance / (2 * planned.uncertainty->expanded))
                        : Json(nullptr);
  object["acceptance"] = planned.uncertainty
                             ? acceptance(scene, *tolerance, planned.uncertainty->expanded)
                             : Json(nullptr);
}

/// What a line's standard uncertainty is measured in, and how many of the inside's units make one.
std::pair<std::string, double> unit_of(const Scene& scene, Source source) {
  switch (source) {
    case Source::part_temperature:
    case Source::air_temperature:
      return {"K", 1};
    case Source::expansion:
      return {"1/K", 1};
    case Source::air_pressure:
      return {"Pa", 1};
    case Source::humidity:
      return {"1", 1};
    case Source::bending:
      return {"K/m", 1e-3};
    default:
      return {scene.units, scene.mm_per_unit};
  }
}

/// The lines of the feature's worst touch, along the direction of its greatest uncertainty. An
/// effect is standard x sensitivity, in scene units.
Json budget_object(const Scene& scene, const Budget& budget) {
  Json lines = Json::array();
  for (const BudgetLine& line : budget.lines) {
    const auto [unit, size] = unit_of(scene, line.source);
    Json object;
    object["source"] = source_name(line.source);
    object["evaluation"] = line.evaluation == Evaluation::type_a ? "A" : "B";
    object["standard"] = json::number(line.standard / size);
    object["unit"] = json::text(unit);
    object["sensitivity"] = json::number(line.sensitivity * size / scene.mm_per_unit);
    object["effect"] = json::length(scene, line.effect);
    object["share"] = json::number(line.share);
    lines.push_back(std::move(object));
  }
  return lines;
}

void add_budgets(const Scene& scene, const Plan& plan, Json& features) {
  for (const FeatureBudget& feature : feature_budgets(scene, plan)) {
    features[feature.feature.index]["budget"] = budget_object(scene, feature.budget);
  }
}

void add_elements(const Scene& scene, const Plan& plan, Json& features) {
  for (const ElementUncertainty& element : shared_element_uncertainties(scene, plan)) {
    features[element.feature.index]["element_expanded"] = json::length(scene, element.expanded);
  }
}

Json feature_object(const Scene& scene, const Plan& plan, const PlannedFeature& planned) {
  const Feature& feature = scene.features[planned.feature.index];
  Json object;
  object["name"] = json::text(feature.name);
  object["required"] = feature.required;
  object["verdict"] = verdict_name(planned.verdict);
  object["station"] = station_name(plan, planned.station);
  if (!planned.stations.empty()) object["stations"] = station_names(plan, planned.stations);
  if (!planned.also_from.empty()) object["also_from"] = station_names(plan, planned.also_from);
  object["target"] =
      planned.target ? json::text(target_name(scene, *planned.target)) : Json(nullptr);
  object["margin"] = json::length(scene, planned.margin);
  add_uncertainty(scene, planned, object);
  if (const FeatureMark* mark = mark_of(plan, planned)) {
    object["way"] = way_name(mark->way);
    object["touches"] = touches_of(scene, plan, planned, *mark);
  }
  for (const Unreached& unreached : plan.unreached) {
    if (unreached.feature == planned.feature)
      object["nearest_miss"] = nearest_miss(scene, unreached);
  }
  return object;
}

/// A whole number without a decimal point.
Json count_or_cost(double value) {
  if (value != std::floor(value)) return json::number(value);
  return static_cast<long long>(value);
}

Json link_object(const Scene& scene, const Plan& plan, const Link& link) {
  Json object;
  object["stations"] = station_names(plan, {link.a, link.b});
  object["nests"] = nest_names(scene, link.nests);
  return object;
}

Json warning_object(const Scene& scene, const Plan& plan, const Warning& warning) {
  Json features = Json::array();
  for (const FeatureId id : warning.features)
    features.push_back(json::text(scene.features[id.index].name));
  Json object;
  object["kind"] = warning_name(warning.kind);
  object["text"] = json::text(warning_sentence(scene, plan, warning));
  if (!features.empty()) object["features"] = std::move(features);
  if (!warning.stations.empty()) object["stations"] = station_names(plan, warning.stations);
  if (!warning.nests.empty()) object["nests"] = nest_names(scene, warning.nests);
  if (warning.kind == WarningKind::in_one_line) object["off"] = json::length(scene, warning.value);
  return object;
}

Json later_aims_object(const Scene& scene, const LaterAims& later) {
  Json object{{"sets_judged", later.judged}, {"all_decided", later.is_all}};
  if (later.worst_at_least) object["worst_at_least"] = json::length(scene, *later.worst_at_least);
  return object;
}

Json cautions_object(const Scene& scene, const Plan& plan, const Cautions& cautions) {
  Json list = Json::array();
  for (const CautionText& caution : caution_texts(scene, plan, cautions)) {
    Json object;
    object["title"] = json::text(caution.title);
    object["text"] = json::text(caution.text);
    if (!caution.items.empty()) {
      object["items"] = Json::array();
      for (const std::string& item : caution.items) object["items"].push_back(json::text(item));
    }
    list.push_back(std::move(object));
  }
  return list;
}

Json alignment_object(const Scene& scene, const Plan& plan) {
  Json object;
  object["features"] = Json::array();
  for (const FeatureId feature : plan.alignment.features)
    object["features"].push_back(json::text(scene.features[feature.index].name));
  object["stations"] = Json::array();
  const std::vector<StationId> stations = aligning_stations(plan);
  for (const StationId station : stations)
    object["stations"].push_back(json::text(plan.stations[station.index].name));
  const auto pose =
      stations.empty() ? std::nullopt : plan.stations[stations.front().index].pose_covariance;
  object["pose_uncertainty"] = pose ? json::pose_covariance(scene, *pose) : Json(nullptr);
  if (const std::optional<LeastHeld> least = least_held(scene, plan))
    object["least_held"] = {{"motion", json::text(motion_words(scene, least->motion))},
                            {"feature", json::text(scene.features[least->feature.index].name)},
                            {"expanded", json::length(scene, least->expanded)}};
  if (scene.alignment->choose) {
    object["is_best_choice"] = plan.alignment.is_best;
    object["worst_at_least"] = plan.alignment.worst_at_least
                                   ? json::length(scene, *plan.alignment.worst_at_least)
                                   : Json(nullptr);
  }
  return object;
}

}  // namespace

Json plan_object(const Scene& scene, const Plan& plan, const Cautions& cautions) {
  Json object;
  object["format"] = "standpoint-plan";
  object["version"] = 1;
  object["scene"] = json::text(scene.name);
  object["units"] = json::text(scene.units);
  object["stations"] = Json::array();
  for (const PlannedStation& station : plan.stations)
    object["stations"].push_back(station_object(scene, station));
  object["features"] = Json::array();
  for (const PlannedFeature& planned : plan.features)
    object["features"].push_back(feature_object(scene, plan, planned));
  add_budgets(scene, plan, object["features"]);
  add_elements(scene, plan, object["features"]);
  if (scene.alignment) object["alignment"] = alignment_object(scene, plan);
  object["links"] = Json::array();
  for (const Link& link : plan.links) object["links"].push_back(link_object(scene, plan, link));
  object["optimality"] = {{"status", proof_name(plan.optimality.status)},
                          {"stations", plan.optimality.stations},
                          {"lower_bound", count_or_cost(plan.optimality.lower_bound)},
                          {"later_aims", later_aims_object(scene, plan.optimality.later)}};
  if (plan.optimality.cost) object["optimality"]["cost"] = count_or_cost(*plan.optimality.cost);
  object["candidates"] = {{"tried", plan.candidates.tried},
                          {"dropped",
                           {{"body-collides", plan.candidates.body_collides},
                            {"inside-body", plan.candidates.inside_body},
                            {"duplicate", plan.candidates.duplicate}}}};
  if (!scene.keep_outs.empty())
    object["candidates"]["dropped"]["keep-out"] = plan.candidates.keep_out;
  object["warnings"] = Json::array();
  for (const Warning& warning : plan.warnings)
    object["warnings"].push_back(warning_object(scene, plan, warning));
  object["cautions"] = cautions_object(scene, plan, cautions);
  return object;
}

std::string plan_json(const Scene& scene, const Plan& plan, const Cautions& cautions,
                      const Advice* advice) {
  Json object = plan_object(scene, plan, cautions);
  if (advice != nullptr) object["advice"] = advice_object(scene, plan, *advice);
  return json::write(object);
}

}  // namespace standpoint
