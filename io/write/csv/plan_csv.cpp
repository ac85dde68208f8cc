#include "io/write/csv/plan_csv.h"

#include <algorithm>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/write/csv/csv.h"
#include "planner/crew/work_order.h"

namespace standpoint {
namespace {

constexpr int kUnitVectorDecimals = 6;

std::string with_unit(std::string_view what, const Scene& scene) {
  return fmt::format("{} ({})", what, scene.units);
}

std::string joined(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, "; "));
}

/// A length of the sheet; empty where there is none.
std::string length_field(const Scene& scene, std::optional<double> mm) {
  const std::string text = mm ? length_text(scene, *mm, step::kSheet) : "";
  return text == "-" ? "" : text;  // an infinite margin: nothing stands anywhere
}

void add_place(const Scene& scene, const Vec3& at, std::vector<std::string>& fields) {
  for (const double c : at) fields.push_back(length_field(scene, c));
}

void add_direction(const std::optional<Vec3>& unit, std::vector<std::string>& fields) {
  for (int i = 0; i < 3; ++i)
    fields.push_back(unit ? fixed_text((*unit)[i], kUnitVectorDecimals) : "");
}

/// The touches that fit `is_asked`.
template <class IsAsked>
void add_touch_records(const Scene& scene, const std::string& station, const FeatureMark& mark,
                       const PlannedFeature& planned, bool is_main, const IsAsked& is_asked,
                       std::string& csv) {
  for (std::size_t t = 0; t < mark.touches.size(); ++t) {
    if (!is_asked(t)) continue;
    const TouchMark& touch = mark.touches[t];
    const Reached* reached = reached_by_target(mark, t);
    const bool has_uncertainty =
        is_main && t < planned.touch_uncertainty.size() && planned.touch_uncertainty[t];
    std::vector<std::string> fields{station, scene.features[mark.feature.index].name,
                                    std::to_string(t + 1)};
    add_place(scene, touch.at, fields);
    add_direction(touch.normal, fields);
    fields.emplace_back(verdict_name(reached != nullptr ? mark.verdict : Verdict::blocked));
    fields.push_back(reached != nullptr ? target_name(scene, reached->target) : "");
    fields.push_back(
        reached != nullptr ? length_field(scene, touching_radius(scene, reached->target)) : "");
    fields.push_back(reached != nullptr ? length_field(scene, reached->margin) : "");
    fields.push_back(has_uncertainty ? length_field(scene, planned.touch_uncertainty[t]->expanded)
                                     : "");
    add_direction(reached != nullptr ? reached->shank_direction : std::nullopt, fields);
    csv += csv_record(fields);
  }
}

}  // namespace

std::string stations_csv(const Scene& scene, const Plan& plan) {
  std::vector<std::string> heads{"station",
                                 "zone",
                                 with_unit("x", scene),
                                 with_unit("y", scene),
                                 with_unit("z", scene),
                                 with_unit("height above zone floor", scene),
                                 "nests",
                                 "features",
                                 "feature count"};
  // Where every instrument stands upright, as nearly always, nobody needs these.
  const bool tells_up =
      std::any_of(plan.stations.begin(), plan.stations.end(),
                  [](const PlannedStation& station) { return !is_upright(station.up); });
  if (tells_up) heads.insert(heads.end(), {"up x", "up y", "up z"});
  std::string csv = csv_record(heads);
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const PlannedStation& station = plan.stations[s];
    std::vector<std::string> nests;
    for (const NestId nest : station.nests) nests.push_back(scene.nests[nest.index].name);
    std::vector<std::string> features;
    for (const PlannedFeature& planned : plan.features) {
      if (is_measured_from(planned, StationId(s)))
        features.push_back(scene.features[planned.feature.index].name);
    }
    std::vector<std::string> fields{station.name,
                                    station.zone ? scene.zones[*station.zone].name : ""};
    add_place(scene, station.at, fields);
    fields.push_back(
        station.zone ? length_field(scene, station.at.z() - scene.zones[*station.zone].floor) : "");
    fields.push_back(joined(nests));
    fields.push_back(joined(features));
    fields.push_back(std::to_string(features.size()));
    if (tells_up) add_direction(station.up, fields);
    csv += csv_record(fields);
  }
  return csv;
}

std::string touches_csv(const Scene& scene, const Plan& plan) {
  std::string csv =
      csv_record({"station", "feature", "touch", with_unit("x", scene), with_unit("y", scene),
                  with_unit("z", scene), "nx", "ny", "nz", "verdict", "target",
                  with_unit("target radius", scene), with_unit("margin", scene),
                  with_unit("expanded uncertainty", scene), "stylus dx", "stylus dy", "stylus dz"});
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const PlannedStation& station = plan.stations[s];
    for (const PlannedFeature& planned : plan.features) {
      if (!is_measured_from(planned, StationId(s))) continue;
      const auto is_from_here = [&](std::size_t t) {
        return is_taken_from(planned, StationId(s), t);
      };
      add_touch_records(scene, station.name, mark_at(plan, planned, StationId(s)), planned,
                        is_told_at(planned, StationId(s)), is_from_here, csv);
    }
  }
  // Touches that nobody takes.
  for (const PlannedFeature& planned : plan.features) {
    if (planned.stations.empty()) continue;
    const auto is_left = [&](std::size_t t) { return !planned.touch_stations[t]; };
    add_touch_records(scene, "", *planned.shared_mark, planned, false, is_left, csv);
  }
  for (const Unreached& unreached : plan.unreached) {
    add_touch_records(
        scene, "", unreached.mark, plan.features[unreached.feature.index], false,
        [](std::size_t) { return true; }, csv);
  }
  return csv;
}

}  // namespace standpoint
