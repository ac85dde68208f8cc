#include "io/read/plan/read_plan.h"

#include <array>
#include <utility>

#include <fmt/format.h>

#include "io/read/plan/plan_keys.h"
#include "io/read/scene/name_table.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_text.h"
#include "io/words/units.h"
#include "planner/planning/provisional_plan.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

class PlanReader {
 public:
  explicit PlanReader(const Scene& scene) : scene_(scene) {
    const Cursor nowhere;
    for (std::size_t i = 0; i < scene.features.size(); ++i)
      features_.add(nowhere, scene.features[i].name, i);
    for (std::size_t i = 0; i < target_count(scene); ++i)
      targets_.add(nowhere, target_name(scene, TargetId(i)), i);
    for (std::size_t i = 0; i < scene.nests.size(); ++i)
      nests_.add(nowhere, scene.nests[i].name, i);
  }

  ReadPlan read(const Cursor& root) {
    const ObjectCursor object(root);
    const auto format = read_choice(object.required("format"), kPlanFormats);
    (void)read_whole(object.required("version"), kVersion);
    if (!format) return std::move(plan_);
    if (*format == 0) {
      read_body(object);
    } else {
      for_each_entry(object.required("sites"), {"a list of nest sites"},
                     [&](const Cursor& entry, std::size_t i) { read_site(entry, i); });
      const Cursor plan = object.required("plan");
      read_body(ObjectCursor(plan));
    }
    return std::move(plan_);
  }

 private:
  void read_body(const ObjectCursor& object) {
    const std::array<std::string_view, 1> name{scene_.name}, units{scene_.units};
    (void)read_choice(object.optional("scene"), name);
    (void)read_choice(object.required("units"), units);
    for_each_entry(object.required("stations"), {"a list of stations"},
                   [&](const Cursor& entry, std::size_t i) { read_station(entry, i); });
    for_each_entry(object.required("features"), {"a list of features"},
                   [&](const Cursor& entry, std::size_t i) { read_feature(entry, i); });
  }

  [[nodiscard]] Vec3 place(const Cursor& at) const {
    return read_vec3(at, kCoordinate).value_or(Vec3::Zero()) * scene_.mm_per_unit;
  }

  void read_site(const Cursor& at, std::size_t index) {
    const ObjectCursor object(at);
    Nest site;
    site.name = read_own_name(object, nests_, scene_.nests.size() + index);
    site.at = place(object.required("at"));
    site.normal = read_direction(object.required("normal")).value_or(Vec3::UnitZ());
    site.seat_rad = rad_from_deg(read_number(object.required("seat"), kHalfAngle).value_or(0));
    plan_.sites.push_back(std::move(site));
  }

  void read_station(const Cursor& at, std::size_t index) {
    const ObjectCursor object(at);
    ReadPlan::Station station;
    station.name = read_own_name(object, stations_, index);
    station.at = place(object.required("at"));
    station.up = read_direction(object.optional("up")).value_or(Vec3::UnitZ());
    plan_.stations.push_back(std::move(station));
  }

  void read_feature(const Cursor& at, std::size_t index) {
    const ObjectCursor object(at);
    ReadPlan::Feature feature;
    feature.where = at.pointer();
    const Cursor name_at = object.required("name");
    const auto name = read_name(name_at);
    if (!name) return;
    const auto id = features_.find(name_at, *name);
    seen_.add(name_at, *name, index);
    const auto find = [&](std::string_view key, const NameTable& names) {
      const Cursor value = non_null(object.optional(key));
      const auto text = read_name(value);
      return text ? names.find(value, *text) : std::nullopt;
    };
    if (const auto station = find("station", stations_)) feature.station = StationId(*station);
    const Cursor sharing = object.optional("stations");
    if (sharing.value != nullptr) {
      for_each_entry(sharing, {"a list of stations' names"}, [&](const Cursor& entry, std::size_t) {
        const auto text = read_name(entry);
        const auto station = text ? stations_.find(entry, *text) : std::nullopt;
        if (station) feature.stations.emplace_back(*station);
      });
    }
    if (const auto target = find("target", targets_)) feature.target = TargetId(*target);
    if (!id) return;
    feature.feature = FeatureId(*id);
    plan_.features.push_back(std::move(feature));
  }

  const Scene& scene_;
  ReadPlan plan_;
  NameTable features_{"a feature of the scene"}, targets_{"a target of the scene"},
      nests_{"a nest"}, stations_{"a station of the plan"}, seen_{"a feature"};
};

}  // namespace

tl::expected<ReadPlan, Faults> parse_plan(const std::string& text, const Scene& scene) {
  FaultSink faults;
  ReadPlan plan;
  if (const auto document = parse_json(text, faults)) {
    Cursor root;
    root.value = &*document;
    root.faults = &faults;
    plan = PlanReader(scene).read(root);
  }
  if (!faults.empty()) return tl::unexpected(faults.take());
  return plan;
}

tl::expected<ReadPlan, Faults> read_plan(const std::filesystem::path& file, const Scene& scene) {
  const auto text = text_of_file(file, "a plan.json or nests.json");
  if (!text) return tl::unexpected(text.error());
  auto plan = parse_plan(*text, scene);
  // The scene's pointers look the same: the plan's are told with their file.
  const auto with_file = [&](std::string& where) {
    where = file.string() + (where.empty() ? "" : "#" + where);
  };
  if (plan) {
    for (ReadPlan::Feature& feature : plan->features) with_file(feature.where);
  } else {
    for (Fault& fault : plan.error()) with_file(fault.where);
  }
  return plan;
}

namespace {

/// Lays a feature on the stations that share it; a fault where they do not take it so any more.
std::optional<Fault> lay_on_sharing(const Scene& scene, const ReadPlan& read,
                                    const ReadPlan::Feature& feature, Plan& plan) {
  lay_on_all(scene, plan, feature.feature);
  PlannedFeature& planned = plan.features[feature.feature.index];
  if (!planned.stations.empty() && (!feature.target || planned.target == feature.target))
    return std::nullopt;
  std::vector<std::string> names;
  for (const StationId station : feature.stations)
    names.push_back(read.stations[station.index].name);
  const std::string with_target =
      feature.target ? " with " + target_name(scene, *feature.target) : "";
  planned = {};
  planned.feature = feature.feature;
  return Fault{feature.where, short_text(scene.features[feature.feature.index].name),
               fmt::format("a feature that {} reach together{}; as the scene is now, they do not",
                           fmt::join(names, ", "), with_target),
               FaultKind::other, ""};
}

}  // namespace

tl::expected<Plan, Faults> look_again(const Cell& cell, const ReadPlan& read) {
  const Scene& scene = cell.scene();
  Plan plan;
  for (const ReadPlan::Station& station : read.stations) {
    PlannedStation& planned = plan.stations.emplace_back();
    planned.name = station.name;
    planned.at = station.at;
    planned.up = station.up;
    planned.sight = look_from(cell, stance_of(planned));
    for (const NestMark& nest : planned.sight.nests)
      if (nest.mark.verdict != Verdict::blocked) planned.nests.push_back(nest.nest);
  }
  for (std::size_t f = 0; f < scene.features.size(); ++f)
    plan.features.emplace_back().feature = FeatureId(f);
  Faults faults;
  for (const ReadPlan::Feature& feature : read.features) {
    if (!feature.stations.empty()) {
      if (auto fault = lay_on_sharing(scene, read, feature, plan)) faults.push_back(*fault);
      continue;
    }
    if (!feature.station) continue;
    PlannedFeature& planned = plan.features[feature.feature.index];
    const FeatureMark& mark =
        plan.stations[feature.station->index].sight.features[feature.feature.index];
    if (mark.verdict == Verdict::blocked || (feature.target && mark.target != feature.target)) {
      const std::string& station = read.stations[feature.station->index].name;
      const std::string with_target =
          feature.target ? " with " + target_name(scene, *feature.target) : "";
      const std::string here = mark.verdict == Verdict::blocked
                                   ? " does not reach it"
                                   : " reaches it with " + target_name(scene, *mark.target);
      faults.push_back({feature.where, short_text(scene.features[feature.feature.index].name),
                        "a feature that " + station + " reaches" + with_target +
                            "; as the scene is now, " + station + here,
                        FaultKind::other, ""});
      continue;
    }
    planned.verdict = mark.verdict;
    planned.station = feature.station;
    planned.target = mark.target;
    planned.margin = mark.margin;
  }
  if (!faults.empty()) return tl::unexpected(std::move(faults));
  return plan;
}

}  // namespace standpoint
