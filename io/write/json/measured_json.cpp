#include "io/write/json/measured_json.h"

#include <nlohmann/json.hpp>

#include "io/words/lengths.h"
#include "io/write/json/part_json.h"

namespace standpoint::json {
namespace {

Json subjects(const Scene& scene, const std::vector<Subject>& all) {
  Json list = Json::array();
  for (const Subject& subject : all) {
    Json object;
    if (const auto* feature = std::get_if<FeatureId>(&subject)) {
      object["feature"] = text(scene.features[feature->index].name);
    } else {
      object["nest"] = text(scene.nests[std::get<NestId>(subject).index].name);
    }
    list.push_back(std::move(object));
  }
  return list;
}

Json nest_name(const Scene& scene, const RealStation& station, std::size_t i) {
  return text(scene.nests[station.seen[i].nest.index].name);
}

Json residuals(const Scene& scene, const RealStation& station) {
  Json list = Json::array();
  for (std::size_t i = 0; i < station.seen.size(); ++i) {
    Json object;
    object["nest"] = nest_name(scene, station, i);
    object["residual"] = place(scene, station.residuals[i]);
    object["length"] = length(scene, station.residuals[i].norm());
    object["normalised"] = station.is_tested ? number(station.normalised[i]) : Json(nullptr);
    const bool is_tried = station.is_tested && station.without[i].is_tried;
    object["drop"] = is_tried ? number(station.without[i].drop) : Json(nullptr);
    list.push_back(std::move(object));
  }
  return list;
}

Json test(const RealStation& station) {
  if (!station.is_tested) return nullptr;
  Json object;
  object["chi_square"] = number(station.chi_square);
  object["freedoms"] = station.degrees_of_freedom;
  object["bound"] = number(station.chi_bound);
  object["fits"] = station.fits;
  object["drop_bound"] = number(station.drop_bound);
  return object;
}

Json suspect(const Scene& scene, const RealStation& station) {
  if (!station.suspect) return nullptr;
  const LeaveOneOut& without = station.without[*station.suspect];
  Json object;
  object["nest"] = nest_name(scene, station, *station.suspect);
  object["drop"] = number(without.drop);
  object["others_fit"] = without.others_fit;
  object["at_without"] = place(scene, without.measuring_centre);
  object["rivals"] = Json::array();
  for (const std::size_t i : station.rivals)
    object["rivals"].push_back(nest_name(scene, station, i));
  return object;
}

Json planned(const Scene& scene, const StandingPlace& standing) {
  if (!standing.planned) return nullptr;
  const Vec3 shift = standing.at - standing.planned->at;
  Json object;
  object["at"] = place(scene, standing.planned->at);
  add_up(standing.planned->up, object);
  object["shift"] = place(scene, shift);
  object["distance"] = length(scene, shift.norm());
  object["gained"] = subjects(scene, standing.planned->effect.gained);
  object["lost"] = subjects(scene, standing.planned->effect.lost);
  return object;
}

}  // namespace

Json measured(const Scene& scene, const StandingPlace& standing) {
  const RealStation& station = *standing.measured;
  Json object;
  object["pose"] = pose(scene, station.world_from_instrument);
  object["tilt"] = number(to_degrees(station.tilt_rad));
  object["residuals"] = residuals(scene, station);
  object["test"] = test(station);
  object["suspect"] = suspect(scene, station);
  object["pose_uncertainty"] =
      station.pose_covariance ? pose_covariance(scene, *station.pose_covariance) : Json(nullptr);
  if (standing.part) object["part"] = part(scene, *standing.part);
  if (standing.movement) object["movement"] = movement(scene, *standing.movement);
  object["planned"] = planned(scene, standing);
  return object;
}

}  // namespace standpoint::json
