#include "io/read/lists/feature_list.h"

#include <array>
#include <string>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "io/read/lists/list_row.h"
#include "io/read/lists/qif_list.h"
#include "io/read/scene/points_in_line.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_value.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr NumberRule kFullAngle{"an angle in degrees", 0.001, 179.999};
constexpr std::array<std::string_view, 2> kSides{"inside", "outside"};

/// A kind of feature: its word, and which columns it has besides those that all have.
struct Kind {
  FoundKind kind;
  std::string_view word;
  std::string_view thing;
  std::array<bool, 6> has;  ///< in the order of `kOwn`
};
constexpr std::array<ListColumn, 6> kOwn{ListColumn::diameter, ListColumn::depth,
                                         ListColumn::length,   ListColumn::width,
                                         ListColumn::angle,    ListColumn::side};
constexpr std::array<Kind, 7> kKinds{{
    //                                        diameter depth length width angle side
    {FoundKind::point, "point", "a point", {false, false, false, false, false, false}},
    {FoundKind::plane, "plane", "a plane", {false, false, false, false, false, false}},
    {FoundKind::hole, "hole", "a hole", {true, true, false, false, false, false}},
    {FoundKind::cylinder, "cylinder", "a cylinder", {true, false, true, false, false, true}},
    {FoundKind::sphere, "sphere", "a sphere", {true, false, false, false, false, false}},
    {FoundKind::cone, "cone", "a cone", {true, false, true, false, true, true}},
    {FoundKind::slot, "slot", "a slot", {false, true, true, true, false, false}},
}};

constexpr std::array<std::string_view, kKinds.size()> kind_words() {
  std::array<std::string_view, kKinds.size()> words;
  for (std::size_t i = 0; i < kKinds.size(); ++i) words[i] = kKinds[i].word;
  return words;
}

/// The kind that the row names; where it names none, a hole where it has a diameter, else a point.
const Kind* kind_of(const RowReader& row) {
  static constexpr auto kWords = kind_words();
  if (!row.has(ListColumn::type)) return &kKinds[row.has(ListColumn::diameter) ? 2 : 0];
  const auto choice = row.choice(ListColumn::type, kWords);
  return choice ? &kKinds[*choice] : nullptr;
}

void read_own_columns(const RowReader& row, const Kind& kind, FoundFeature& feature) {
  for (std::size_t i = 0; i < kOwn.size(); ++i) {
    const ListColumn column = kOwn[i];
    if (!kind.has[i]) {
      row.expect_none(column, kind.thing);
    } else if (column == ListColumn::side) {
      feature.hollow = row.choice(column, kSides) == std::optional<std::size_t>(0);
    } else if (column == ListColumn::angle) {
      feature.angle_rad = rad_from_deg(row.angle(column, kFullAngle).value_or(0));
    } else {
      double& member = column == ListColumn::diameter ? feature.diameter
                       : column == ListColumn::depth  ? feature.depth
                       : column == ListColumn::length ? feature.length
                                                      : feature.width;
      member = row.length(column).value_or(0);
    }
  }
  const bool is_opening = kind.kind == FoundKind::hole || kind.kind == FoundKind::slot;
  if (!is_opening) {
    row.expect_none(ListColumn::through, kind.thing);
  } else if (row.has(ListColumn::through)) {
    feature.through = row.flag(ListColumn::through).value_or(false);
  }
  if (kind.kind == FoundKind::slot) {
    if (feature.length > 0 && feature.length < feature.width)
      row.fault(ListColumn::length, FaultKind::out_of_range, "at least the width");
    feature.along = row.direction(ListColumn::along_i).value_or(Vec3::UnitX());
  } else {
    for (const ListColumn column : {ListColumn::along_i, ListColumn::along_j, ListColumn::along_k})
      row.expect_none(column, kind.thing);
  }
}

/// What a row says of its feature, whatever its kind.
ListedFeature read_row(const RowReader& row, const Kind& kind) {
  ListedFeature listed;
  FoundFeature& feature = listed.feature;
  feature.kind = kind.kind;
  if (const auto at = row.at()) feature.points = {*at};
  feature.centre = feature.points.empty() ? Vec3::Zero() : feature.points.front();
  listed.is_upward = !row.has_direction(ListColumn::i);
  const Vec3 normal =
      listed.is_upward ? Vec3::UnitZ() : row.direction(ListColumn::i).value_or(Vec3::UnitZ());
  feature.axis = normal;
  feature.toward = normal;
  read_own_columns(row, kind, feature);
  row.expect_none(ListColumn::seat, kind.thing);
  if (row.has(ListColumn::tolerance)) feature.tolerance = row.length(ListColumn::tolerance);
  if (row.has(ListColumn::required))
    listed.required = row.flag(ListColumn::required).value_or(true);
  if (row.has(ListColumn::datum)) feature.datum = row.flag(ListColumn::datum).value_or(false);
  return listed;
}

class FeatureRows {
 public:
  FeatureRows(const ListTable& table, ListFaults& faults) : table_(table), faults_(faults) {}

  void read(const CsvRecord& record) {
    const RowReader row(table_, record, faults_);
    const auto name = row.name();
    const Kind* kind = kind_of(row);
    if (kind == nullptr) {
      (void)row.at();  // for their faults
      if (row.has_direction(ListColumn::i)) (void)row.direction(ListColumn::i);
      return;
    }
    ListedFeature listed = read_row(row, *kind);
    if (!name) return;
    listed.feature.name = *name;
    listed.where = faults_.where(row.place());
    if (kind->kind != FoundKind::plane) listed.feature.points.clear();
    const auto [before, is_new] =
        begun_.emplace(*name, Begun{list.features.size(), row.place(), kind->kind, 0});
    ++before->second.rows;
    if (is_new) {
      list.features.push_back(std::move(listed));
    } else if (kind->kind == FoundKind::plane && before->second.kind == FoundKind::plane) {
      add_point(row, before->second, listed);
    } else {
      row.fault(ListColumn::name, FaultKind::duplicate_name,
                fmt::format("a name of its own; line {} has this one already",
                            before->second.place.line));
    }
  }

  /// Once all rows are read: each plane has points that fix it.
  void check_planes() {
    for (const auto& [name, begun] : begun_) {
      const FoundFeature& feature = list.features[begun.index].feature;
      const std::size_t count = begun.rows;
      const bool is_whole = count == feature.points.size();
      if (begun.kind != FoundKind::plane || !is_whole) continue;
      if (count < 3 || count > kMostPlanePoints) {
        faults_.add(begun.place,
                    fmt::format("{} of {}", count == 1 ? "1 row" : fmt::format("{} rows", count),
                                short_text(name)),
                    count < 3 ? FaultKind::too_few_entries : FaultKind::too_many_entries,
                    fmt::format("3 to {} rows of a plane's name, each with one of its points",
                                kMostPlanePoints));
      } else if (are_in_line(feature.points)) {
        faults_.add(begun.place, short_text(name), FaultKind::points_in_line,
                    "rows whose points fix a plane; these are in one line");
      }
    }
  }

  FeatureList list;

 private:
  struct Begun {
    std::size_t index;
    CsvPlace place;
    FoundKind kind;
    std::size_t rows;  ///< of a plane
  };

  /// A further row of a plane: one more point; what else it says is what the first row says.
  void add_point(const RowReader& row, const Begun& begun, const ListedFeature& listed) {
    ListedFeature& first = list.features[begun.index];
    for (const Vec3& point : listed.feature.points) first.feature.points.push_back(point);
    const auto tell = [&](ListColumn column) {
      row.fault(column, FaultKind::other,
                fmt::format("what line {} says of the same plane, or nothing", begun.place.line));
    };
    if (!listed.is_upward && listed.feature.axis != first.feature.axis) tell(ListColumn::i);
    if (listed.feature.tolerance && listed.feature.tolerance != first.feature.tolerance)
      tell(ListColumn::tolerance);
    if (row.has(ListColumn::required) && listed.required != first.required)
      tell(ListColumn::required);
    if (row.has(ListColumn::datum) && listed.feature.datum != first.feature.datum)
      tell(ListColumn::datum);
  }

  const ListTable& table_;
  ListFaults& faults_;
  std::unordered_map<std::string, Begun> begun_;
};

Shape scene_shape(const FoundFeature& feature) {
  switch (feature.kind) {
    case FoundKind::plane:
      return PlaneFeature{feature.points, feature.axis};
    case FoundKind::hole:
      return HoleFeature{feature.centre, feature.axis, feature.diameter / 2, feature.depth};
    case FoundKind::cylinder:
      return CylinderFeature{feature.centre, feature.axis, feature.diameter / 2, feature.length,
                             feature.hollow};
    case FoundKind::sphere:
      return SphereFeature{feature.centre, feature.toward, feature.diameter / 2};
    default:
      return PointFeature{feature.centre, feature.axis};
  }
}

std::string_view word_of(FoundKind wanted) {
  for (const Kind& kind : kKinds)
    if (kind.kind == wanted) return kind.word;
  return "";
}

}  // namespace

tl::expected<FeatureList, Faults> parse_feature_list(std::string_view bytes,
                                                     const ListOptions& options) {
  if (is_xml(bytes)) return parse_qif_features(bytes, options);
  ListFaults faults(options.file);
  ListTable table(bytes, options, faults);
  FeatureRows rows(table, faults);
  table.for_each_row([&](const CsvRecord& record) { rows.read(record); });
  rows.check_planes();
  if (!faults.empty()) return tl::unexpected(faults.take());
  return std::move(rows.list);
}

bool is_for_scenes(FoundKind kind) {
  return kind != FoundKind::cone && kind != FoundKind::slot;
}

tl::expected<std::vector<Feature>, Faults> scene_features(const FeatureList& list) {
  std::vector<Feature> features;
  features.reserve(list.features.size());
  Faults faults;
  for (const ListedFeature& listed : list.features) {
    if (!is_for_scenes(listed.feature.kind)) {
      faults.push_back({listed.where, short_text(word_of(listed.feature.kind)),
                        "for type one of point, plane, hole, cylinder, sphere: a scene takes no "
                        "other yet",
                        FaultKind::unknown_choice, ""});
      continue;
    }
    Feature feature;
    feature.name = listed.feature.name;
    feature.shape = scene_shape(listed.feature);
    feature.tolerance = listed.feature.tolerance;
    feature.required = listed.required;
    features.push_back(std::move(feature));
  }
  if (!faults.empty()) return tl::unexpected(std::move(faults));
  return features;
}

}  // namespace standpoint
