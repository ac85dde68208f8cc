#include "io/words/json_parts.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/text.h"

namespace standpoint::json {

Json number(double value) {
  if (!std::isfinite(value)) return nullptr;
  return value == 0 ? 0.0 : value;  // -0 == 0: no "-0.0" in files
}

Json length(const Scene& scene, double mm) {
  return number(to_scene_units(scene, mm));
}

Json length(const Scene& scene, std::optional<double> mm) {
  return mm ? length(scene, *mm) : Json(nullptr);
}

Json place(const Scene& scene, const Vec3& at) {
  return Json::array({length(scene, at.x()), length(scene, at.y()), length(scene, at.z())});
}

Json direction(const Vec3& unit) {
  return Json::array({number(unit.x()), number(unit.y()), number(unit.z())});
}

void add_up(const Vec3& up, Json& object) {
  if (!is_upright(up)) object["up"] = direction(up);
}

Json text(std::string_view name) {
  return well_formed(name);
}

Json optical_centre(const Scene& scene, const FeatureMark& mark, std::size_t touch) {
  const Reached* reached = reached_by_target(mark, touch);
  return place(scene,
               reached != nullptr ? reached->optical_centre : mark.touches[touch].optical_centre);
}

Json cause(const Scene& scene, const Cause& cause) {
  Json object;
  object["target"] = text(target_name(scene, cause.target));
  object["cause"] = rule_name(cause.rule);
  object["body"] = cause.body ? text(scene.bodies[cause.body->index].name) : Json(nullptr);
  if (cause.face) object["face"] = text(*cause.face);
  object["distance"] = length(scene, cause.distance);
  object["margin"] = length(scene, cause.margin);
  object["at"] = cause.at ? place(scene, *cause.at) : Json(nullptr);
  object["optical_centre"] = place(scene, cause.optical_centre);
  return object;
}

Json causes(const Scene& scene, const std::vector<Cause>& causes) {
  Json list = Json::array();
  for (const Cause& one : causes) list.push_back(cause(scene, one));
  return list;
}

Json uncertainty(const Scene& scene, const PointUncertainty& uncertainty) {
  Json rows = Json::array();
  for (Eigen::Index r = 0; r < 3; ++r) {
    Json row = Json::array();
    for (Eigen::Index c = 0; c < 3; ++c)
      row.push_back(number(uncertainty.covariance(r, c) / (scene.mm_per_unit * scene.mm_per_unit)));
    rows.push_back(std::move(row));
  }
  Json object;
  object["covariance"] = std::move(rows);
  object["expanded"] = length(scene, uncertainty.expanded);
  return object;
}

Json pose_covariance(const Scene& scene, const Eigen::Matrix<double, 6, 6>& covariance) {
  Json rows = Json::array();
  for (Eigen::Index r = 0; r < 6; ++r) {
    Json row = Json::array();
    for (Eigen::Index c = 0; c < 6; ++c) {
      double value = covariance(r, c);
      if (r < 3) value /= scene.mm_per_unit;
      if (c < 3) value /= scene.mm_per_unit;
      row.push_back(number(value));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

namespace {

std::string compact(const Json& value) {
  return for_json(value.dump(-1, ' ', false, Json::error_handler_t::replace));
}

std::string one_entry_a_line(const Json& list) {
  std::string lines = "[";
  const char* before = "\n  ";
  for (const Json& entry : list) {
    lines += before + compact(entry);
    before = ",\n  ";
  }
  return lines + "\n ]";
}

}  // namespace

std::string write(const Json& object) {
  std::string result = "{";
  const char* before = "\n ";
  for (const auto& [key, value] : object.items()) {
    const bool is_list = value.is_array() && !value.empty() && value.front().is_structured();
    result += before + compact(Json(key)) + ": ";
    result += is_list ? one_entry_a_line(value) : compact(value);
    before = ",\n ";
  }
  return result + "\n}\n";
}

}  // namespace standpoint::json
