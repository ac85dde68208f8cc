#include "io/read/plan/plan_record.h"

#include <algorithm>
#include <array>

#include "io/read/plan/plan_keys.h"
#include "io/read/scene/name_table.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_text.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 3> kVerdicts{"full-target", "offset-stylus", "blocked"};
constexpr std::array kVerdictOf{Verdict::full_target, Verdict::offset_stylus, Verdict::blocked};
constexpr NumberRule kMargin{"a margin in scene units", -1e9, 1e9};

/// Whoever compares plans looks at each pair of stations: a hostile file must not take all day.
constexpr CountRule kStations{"a list of at most 10000 stations", 0, 10000};
constexpr CountRule kFeatures{"a list of features"};

class RecordReader {
 public:
  PlanRecord read(const Cursor& root) {
    const ObjectCursor object(root);
    const auto format = read_choice(object.required("format"), kPlanFormats);
    (void)read_whole(object.required("version"), kVersion);
    if (!format) return std::move(record_);
    if (*format == 0) {
      read_body(object);
    } else {
      const Cursor plan = object.required("plan");
      read_body(ObjectCursor(plan));
    }
    return std::move(record_);
  }

 private:
  void read_body(const ObjectCursor& object) {
    record_.scene = read_text(object.optional("scene"), kLongestName).value_or("");
    if (const auto unit = read_choice(object.required("units"), kUnitNames)) {
      record_.units = kUnitNames[*unit];
      record_.mm_per_unit = kMmPerUnit[*unit];
    }
    for_each_entry(object.required("stations"), kStations,
                   [&](const Cursor& entry, std::size_t i) { read_station(entry, i); });
    for_each_entry(object.required("features"), kFeatures,
                   [&](const Cursor& entry, std::size_t i) { read_feature(entry, i); });
    const Cursor links = object.optional("links");
    if (links.value != nullptr)
      for_each_entry(links, {"a list of links"},
                     [&](const Cursor& entry, std::size_t) { read_link(entry); });
  }

  [[nodiscard]] std::optional<double> length(const Cursor& at, const NumberRule& rule) const {
    auto value = read_number(non_null(at), rule);
    if (value) *value *= record_.mm_per_unit;
    return value;
  }

  void read_station(const Cursor& at, std::size_t index) {
    const ObjectCursor object(at);
    PlanRecord::Station station;
    station.name = read_own_name(object, stations_, index);
    station.at =
        read_vec3(object.required("at"), kCoordinate).value_or(Vec3::Zero()) * record_.mm_per_unit;
    station.up = read_direction(object.optional("up")).value_or(Vec3::UnitZ());
    station.zone = read_name(non_null(object.optional("zone")));
    record_.stations.push_back(std::move(station));
  }

  void add_station(const Cursor& at, std::vector<std::size_t>& stations) const {
    const auto name = read_name(at);
    if (!name) return;
    const auto station = stations_.find(at, *name);
    if (station && std::find(stations.begin(), stations.end(), *station) == stations.end())
      stations.push_back(*station);
  }

  void add_stations(const Cursor& list, std::vector<std::size_t>& stations) const {
    if (list.value == nullptr) return;
    for_each_entry(list, {"a list of stations' names"},
                   [&](const Cursor& entry, std::size_t) { add_station(entry, stations); });
  }

  void read_feature(const Cursor& at, std::size_t index) {
    const ObjectCursor object(at);
    PlanRecord::Feature feature;
    feature.name = read_own_name(object, features_, index);
    feature.required = read_flag(object.optional("required")).value_or(true);
    const auto verdict = read_choice(object.required("verdict"), kVerdicts);
    if (verdict) feature.verdict = kVerdictOf[*verdict];
    add_station(non_null(object.optional("station")), feature.stations);
    add_stations(object.optional("also_from"), feature.stations);
    feature.is_shared = feature.stations.empty();
    add_stations(object.optional("stations"), feature.stations);
    feature.is_shared = feature.is_shared && !feature.stations.empty();
    feature.target = read_name(non_null(object.optional("target")));
    feature.margin = length(object.optional("margin"), kMargin);
    const Cursor uncertainty = non_null(object.optional("uncertainty"));
    if (uncertainty.value != nullptr)
      feature.expanded = length(ObjectCursor(uncertainty).required("expanded"), kUncertainty);
    record_.features.push_back(std::move(feature));
  }

  void read_link(const Cursor& at) {
    const ObjectCursor object(at);
    PlanRecord::Link link;
    std::vector<std::size_t> ends;
    const Cursor stations = object.required("stations");
    for_each_entry(stations, {"a list of two stations' names", 2, 2},
                   [&](const Cursor& entry, std::size_t) { add_station(entry, ends); });
    for_each_entry(object.required("nests"), {"a list of nests' names"},
                   [&](const Cursor& entry, std::size_t) {
                     if (auto name = read_name(entry)) link.nests.push_back(std::move(*name));
                   });
    if (ends.size() != 2) return;
    link.a = ends[0];
    link.b = ends[1];
    record_.links.push_back(std::move(link));
  }

  PlanRecord record_;
  NameTable stations_{"a station of the plan"}, features_{"a feature of the plan"};
};

}  // namespace

tl::expected<PlanRecord, Faults> parse_plan_record(const std::string& text) {
  FaultSink faults;
  PlanRecord record;
  if (const auto document = parse_json(text, faults)) {
    Cursor root;
    root.value = &*document;
    root.faults = &faults;
    record = RecordReader().read(root);
  }
  if (!faults.empty()) return tl::unexpected(faults.take());
  return record;
}

tl::expected<PlanRecord, Faults> read_plan_record(const std::filesystem::path& file) {
  const auto text = text_of_file(file, "a plan.json or nests.json");
  if (!text) return tl::unexpected(text.error());
  auto record = parse_plan_record(*text);
  if (!record) {
    for (Fault& fault : record.error())
      fault.where = file.string() + (fault.where.empty() ? "" : "#" + fault.where);
  }
  return record;
}

}  // namespace standpoint
