#include "io/read/lists/feature_list.h"

#include <array>
#include <string>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "geometry/square_to.h"
#include "geometry/trigonometry.h"
#include "io/read/lists/list_row.h"
#include "io/read/lists/qif_list.h"
#include "io/read/scene/points_in_line.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_value.h"
#include "io/words/tolerances.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

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
constexpr std::array<Kind, 8> kKinds{{
    //                                        diameter depth length width angle side
    {FoundKind::point, "point", "a point", {false, false, false, false, false, false}},
    {FoundKind::plane, "plane", "a plane", {false, false, false, false, false, false}},
    {FoundKind::hole, "hole", "a hole", {true, true, false, false, false, false}},
    {FoundKind::cylinder, "cylinder", "a cylinder", {true, false, true, false, false, true}},
    {FoundKind::sphere, "sphere", "a sphere", {true, false, false, false, false, false}},
    {FoundKind::cone, "cone", "a cone", {true, false, true, false, true, true}},
    {FoundKind::slot, "slot", "a slot", {false, true, true, true, false, false}},
    {FoundKind::line, "line", "a line", {false, false, false, false, false, false}},
}};

/// Whether a feature has several rows, each with one of its points.
bool has_rows(FoundKind kind) {
  return kind == FoundKind::plane || kind == FoundKind::line;
}

constexpr std::array<std::string_view, kKinds.size()> kind_words() {
  std::array<std::string_view, kKinds.size()> words;
  for (std::size_t i = 0; i < kKinds.size(); ++i) words[i] = kKinds[i].word;
  return words;
}

std::string_view word_of(FoundKind wanted) {
  for (const Kind& kind : kKinds)
    if (kind.kind == wanted) return kind.word;
  return "";
}

/// The kind that the row names; where it names none, a hole where it has a diameter, else a point.
const Kind* kind_of(const RowReader& row) {
  static constexpr auto kWords = kind_words();
  if (!row.has(ListColumn::type)) return &kKinds[row.has(ListColumn::diameter) ? 2 : 0];
  const auto choice = row.choice(ListColumn::type, kWords);
  return choice ? &kKinds[*choice] : nullptr;
}

/// The direction of a slot's length.
void read_along(const RowReader& row, FoundFeature& slot) {
  const auto along = row.direction(ListColumn::along_i);
  slot.along = along.value_or(Vec3::UnitX());
  if (along && slot.axis.cross(*along).norm() <= tolerance::kSquareDirection)
    row.fault(ListColumn::along_i, FaultKind::parallel_direction,
              "a direction across the slot's axis; this one runs along it");
}

/// A cone ends at its tip or before.
void check_tip(const RowReader& row, const FoundFeature& cone) {
  if (!(cone.diameter > 0 && cone.angle_rad > 0 && cone.length > 0)) return;
  const double longest = cone.diameter / tangent(cone.angle_rad / 2);
  if (cone.length > longest * (1 + tolerance::kConeTip))
    row.fault(ListColumn::length, FaultKind::cone_past_tip,
              fmt::format("at most {:.9g} mm; there the cone has come to its tip", longest));
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
  if (kind.kind == FoundKind::cone) check_tip(row, feature);
  const bool is_opening = kind.kind == FoundKind::hole || kind.kind == FoundKind::slot;
  if (!is_opening) {
    row.expect_none(ListColumn::through, kind.thing);
  } else if (row.has(ListColumn::through)) {
    feature.through = row.flag(ListColumn::through).value_or(false);
  }
  if (kind.kind == FoundKind::slot) {
    if (feature.length > 0 && feature.length <= feature.width)
      row.fault(ListColumn::length, FaultKind::slot_not_long, "more than the width");
    read_along(row, feature);
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
    if (!has_rows(kind->kind)) listed.feature.points.clear();
    const auto [before, is_new] =
        begun_.emplace(*name, Begun{list.features.size(), row.place(), kind->kind, 0});
    ++before->second.rows;
    if (is_new) {
      list.features.push_back(std::move(listed));
    } else if (has_rows(kind->kind) && before->second.kind == kind->kind) {
      add_point(row, before->second, listed);
    } else {
      row.fault(ListColumn::name, FaultKind::duplicate_name,
                fmt::format("a name of its own; line {} has this one already",
                            before->second.place.line));
    }
  }

  /// Once all rows are read: each plane and line has points that fix it.
  void check_points() {
    for (const auto& [name, begun] : begun_) {
      FoundFeature& feature = list.features[begun.index].feature;
      const bool is_whole = begun.rows == feature.points.size();
      if (!is_whole) continue;
      if (begun.kind == FoundKind::plane) check_plane(name, begun, feature);
      if (begun.kind == FoundKind::line) check_line(name, begun, feature);
    }
  }

  FeatureList list;

 private:
  struct Begun {
    std::size_t index;
    CsvPlace place;
    FoundKind kind;
    std::size_t rows;  ///< of a plane or line
  };

  static std::string rows_of(const Begun& begun, const std::string& name) {
    return fmt::format("{} of {}", begun.rows == 1 ? "1 row" : fmt::format("{} rows", begun.rows),
                       short_text(name));
  }

  void check_plane(const std::string& name, const Begun& begun, const FoundFeature& plane) {
    if (begun.rows < 3 || begun.rows > kMostPlanePoints) {
      faults_.add(begun.place, rows_of(begun, name),
                  begun.rows < 3 ? FaultKind::too_few_entries : FaultKind::too_many_entries,
                  fmt::format("3 to {} rows of a plane's name, each with one of its points",
                              kMostPlanePoints));
    } else if (are_in_line(plane.points)) {
      faults_.add(begun.place, short_text(name), FaultKind::points_in_line,
                  "rows whose points fix a plane; these are in one line");
    }
  }

  void check_line(const std::string& name, const Begun& begun, FoundFeature& line) {
    if (begun.rows != 2) {
      faults_.add(begun.place, rows_of(begun, name),
                  begun.rows < 2 ? FaultKind::too_few_entries : FaultKind::too_many_entries,
                  "2 rows of a line's name, with its two ends");
      return;
    }
    const Vec3 whole = line.points[1] - line.points[0];
    line.length = whole.norm();
    if (!(line.length > 0)) {
      faults_.add(begun.place, short_text(name), FaultKind::out_of_range,
                  "rows with two different places, the ends of a line");
    } else if (whole.cross(line.axis).norm() <= tolerance::kSquareDirection * line.length) {
      faults_.add(begun.place, short_text(name), FaultKind::parallel_direction,
                  "for i, j, k a direction across the line; this one runs along it");
    }
  }

  /// A further row of a plane or line: one more point; what else it says is what the first row
  /// says.
  void add_point(const RowReader& row, const Begun& begun, const ListedFeature& listed) {
    ListedFeature& first = list.features[begun.index];
    for (const Vec3& point : listed.feature.points) first.feature.points.push_back(point);
    const auto tell = [&](ListColumn column) {
      row.fault(column, FaultKind::other,
                fmt::format("what line {} says of the same {}, or nothing", begun.place.line,
                            word_of(begun.kind)));
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
    case FoundKind::line:
      return LineFeature{
          feature.points[0], feature.points[1],
          square_to((feature.points[1] - feature.points[0]).normalized(), feature.axis)};
    case FoundKind::cone:
      return ConeFeature{feature.centre,        feature.axis,   feature.diameter / 2,
                         feature.angle_rad / 2, feature.length, feature.hollow};
    case FoundKind::slot:
      return SlotFeature{feature.centre, feature.axis,   square_to(feature.axis, feature.along),
                         feature.width,  feature.length, feature.depth};
    case FoundKind::point:
      break;
  }
  return PointFeature{feature.centre, feature.axis};
}

}  // namespace

tl::expected<FeatureList, Faults> parse_feature_list(std::string_view bytes,
                                                     const ListOptions& options) {
  if (is_xml(bytes)) return parse_qif_features(bytes, options);
  ListFaults faults(options.file);
  ListTable table(bytes, options, faults);
  FeatureRows rows(table, faults);
  table.for_each_row([&](const CsvRecord& record) { rows.read(record); });
  rows.check_points();
  if (!faults.empty()) return tl::unexpected(faults.take());
  return std::move(rows.list);
}

std::vector<Feature> scene_features(const FeatureList& list) {
  std::vector<Feature> features;
  features.reserve(list.features.size());
  for (const ListedFeature& listed : list.features) {
    Feature feature;
    feature.name = listed.feature.name;
    feature.shape = scene_shape(listed.feature);
    feature.tolerance = listed.feature.tolerance;
    feature.required = listed.required;
    features.push_back(std::move(feature));
  }
  return features;
}

}  // namespace standpoint
