#include "io/write/json/part_json.h"

#include <nlohmann/json.hpp>

#include "io/words/lengths.h"

namespace standpoint::json {
namespace {

std::string_view kind_word(FindingKind kind) {
  switch (kind) {
    case FindingKind::blunder:
      return "blunder";
    case FindingKind::wrong_target:
      return "wrong-target";
    case FindingKind::offset:
      break;
  }
  return "offset";
}

std::string_view moved_word(Moved moved) {
  switch (moved) {
    case Moved::untested:
      return "untested";
    case Moved::nothing:
      return "nothing";
    case Moved::nest:
      return "nest";
    case Moved::station:
      return "station";
    case Moved::cannot_tell:
      return "cannot-tell";
    case Moved::several:
      break;
  }
  return "several";
}

Json target(const Scene& scene, std::optional<TargetId> target) {
  return target ? text(target_name(scene, *target)) : Json(nullptr);
}

Json reading(const Scene& scene, const SeenRow& seen, const PartRow& row, bool is_tested) {
  Json object;
  object["nest"] = seen.nest ? text(scene.nests[seen.nest->index].name) : Json(nullptr);
  object["feature"] = seen.nest ? Json(nullptr) : text(scene.features[seen.feature.index].name);
  object["touch"] = seen.touch ? Json(*seen.touch + 1) : Json(nullptr);
  object["target"] = seen.nest ? Json(nullptr) : target(scene, seen.target);
  object["residual"] = place(scene, row.off);
  object["length"] = length(scene, row.length);
  object["normalised"] = is_tested ? number(row.normalised) : Json(nullptr);
  object["drop"] = row.freedoms > 0 ? number(row.drop) : Json(nullptr);
  return object;
}

Json finding(const Scene& scene, const PartFinding& found) {
  const bool is_blunder = found.kind == FindingKind::blunder;
  Json object;
  object["kind"] = kind_word(found.kind);
  object["readings"] = Json::array();
  for (const std::size_t row : found.rows) object["readings"].push_back(row + 1);
  object["off"] = length(scene, found.off);
  object["off_standard"] = is_blunder ? Json(nullptr) : length(scene, found.standard);
  object["told"] = is_blunder ? Json(nullptr) : target(scene, found.told);
  object["used"] = target(scene, found.used);
  object["also"] = Json::array();
  for (const TargetId also : found.also) object["also"].push_back(target(scene, also));
  object["is_all"] = found.is_all;
  object["drop"] = number(found.drop);
  object["freedoms"] = found.freedoms;
  object["bound"] = number(found.bound);
  object["shift_of_centre"] = length(scene, found.shift_of_centre);
  object["shift_of_reading"] = length(scene, found.shift_of_touch);
  object["shifted_reading"] = found.shifted_row + 1;
  return object;
}

Json corrected(const Scene& scene, const PartStation& part) {
  if (!part.corrected) return nullptr;
  Json object;
  object["pose"] = pose(scene, *part.corrected);
  object["chi_square"] = number(part.corrected_chi_square);
  object["freedoms"] = part.corrected_freedoms;
  object["bound"] = number(part.corrected_bound);
  object["fits"] = part.corrected_chi_square <= part.corrected_bound;
  return object;
}

Json moved_station(const Scene& scene, const Movement& movement) {
  if (!movement.shift_of_station) return nullptr;
  Json object;
  object["shift"] = place(scene, *movement.shift_of_station);
  object["distance"] = length(scene, movement.shift_of_station->norm());
  object["turn"] = number(to_degrees(movement.turn_of_station.norm()));
  object["chi_square"] = number(movement.chi_square_after);
  object["bound"] = number(movement.bound_after);
  return object;
}

}  // namespace

Json pose(const Scene& scene, const Pose& world_from_instrument) {
  Json object;
  object["translate"] = place(scene, world_from_instrument.translation());
  object["rotation"] = Json::array();
  for (int row = 0; row < 3; ++row)
    object["rotation"].push_back(direction(world_from_instrument.linear().row(row).transpose()));
  return object;
}

Json part(const Scene& scene, const PartStation& part) {
  Json object;
  object["readings"] = Json::array();
  for (std::size_t i = 0; i < part.seen.size(); ++i)
    object["readings"].push_back(reading(scene, part.seen[i], part.rows[i], part.is_tested));
  object["findings"] = Json::array();
  for (const PartFinding& found : part.findings)
    object["findings"].push_back(finding(scene, found));
  object["runs_tried"] = part.runs_tried;
  object["corrected"] = corrected(scene, part);
  return object;
}

Json movement(const Scene& scene, const Movement& movement) {
  const bool is_tested = movement.moved != Moved::untested;
  const auto name = [&](std::size_t i) {
    return text(scene.nests[movement.nests[i].nest.index].name);
  };
  Json object;
  object["moved"] = moved_word(movement.moved);
  object["nests"] = Json::array();
  for (std::size_t i = 0; i < movement.nests.size(); ++i) {
    Json nest;
    nest["nest"] = name(i);
    nest["shift"] = place(scene, movement.nests[i].shift);
    nest["length"] = length(scene, movement.nests[i].shift.norm());
    nest["chi_square"] = is_tested ? number(movement.nests[i].chi_square) : Json(nullptr);
    object["nests"].push_back(std::move(nest));
  }
  object["nest"] = movement.nest ? name(*movement.nest) : Json(nullptr);
  object["rivals"] = Json::array();
  for (const std::size_t i : movement.rivals) object["rivals"].push_back(name(i));
  object["chi_square"] = is_tested ? number(movement.chi_square) : Json(nullptr);
  object["freedoms"] = 3 * movement.nests.size();
  object["bound"] = is_tested ? number(movement.bound) : Json(nullptr);
  object["station"] = is_tested ? moved_station(scene, movement) : Json(nullptr);
  return object;
}

}  // namespace standpoint::json
