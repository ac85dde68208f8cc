#include "io/write/csv/list_csv.h"

#include <array>
#include <cassert>
#include <numbers>

#include <fmt/format.h>

#include "io/words/units.h"
#include "io/write/csv/csv.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 21> kHeads{
    "name",    "type",     "x",       "y",       "z",         "i",     "j",
    "k",       "diameter", "depth",   "length",  "width",     "angle", "side",
    "through", "along_i",  "along_j", "along_k", "tolerance", "datum", "note"};
using Fields = std::array<std::string, kHeads.size()>;

std::string_view unit_of(std::string_view head, std::string_view units) {
  for (const std::string_view length :
       {"x", "y", "z", "diameter", "depth", "length", "width", "tolerance"})
    if (head == length) return units;
  return head == "angle" ? "deg" : "";
}

std::string_view word_of(FoundKind kind) {
  switch (kind) {
    case FoundKind::hole:
      return "hole";
    case FoundKind::slot:
      return "slot";
    case FoundKind::cylinder:
      return "cylinder";
    case FoundKind::cone:
      return "cone";
    case FoundKind::sphere:
      return "sphere";
    case FoundKind::plane:
      return "plane";
    case FoundKind::point:
      return "point";
    case FoundKind::line:
      return "line";
  }
  return "";
}

/// Rows of a list under way.
class Rows {
 public:
  explicit Rows(std::string_view units) : units_(units) {
    for (std::size_t i = 0; i < kUnitNames.size(); ++i)
      if (kUnitNames[i] == units) mm_ = kMmPerUnit[i];
    assert(mm_ > 0);
  }

  void add(const FoundFeature& feature) {
    if (feature.name.empty()) return;
    const bool has_rows = feature.kind == FoundKind::plane || feature.kind == FoundKind::line;
    for (const Vec3& at : has_rows ? feature.points : std::vector<Vec3>{feature.centre})
      rows_.push_back(row_of(feature, at));
  }

  [[nodiscard]] std::string text() const {
    std::array<bool, kHeads.size()> is_filled{};
    for (std::size_t i = 0; i < 5; ++i) is_filled[i] = true;
    for (const Fields& row : rows_)
      for (std::size_t i = 0; i < kHeads.size(); ++i) is_filled[i] |= !row[i].empty();
    Fields header;
    for (std::size_t i = 0; i < kHeads.size(); ++i) {
      const std::string_view unit = unit_of(kHeads[i], units_);
      header[i] = unit.empty() ? std::string(kHeads[i]) : fmt::format("{} [{}]", kHeads[i], unit);
    }
    std::string csv = record(header, is_filled);
    for (const Fields& row : rows_) csv += record(row, is_filled);
    return csv;
  }

 private:
  static std::string record(const Fields& row, const std::array<bool, kHeads.size()>& is_filled) {
    std::vector<std::string> fields;
    for (std::size_t i = 0; i < kHeads.size(); ++i)
      if (is_filled[i]) fields.push_back(row[i]);
    return csv_record(fields);
  }

  // Adding 0 turns -0 into 0.
  static std::string number(double value) { return fmt::format("{}", value + 0.0); }
  [[nodiscard]] std::string length(double mm) const { return number(mm / mm_); }
  static std::string yes(bool is_so) { return is_so ? "yes" : ""; }

  [[nodiscard]] Fields row_of(const FoundFeature& feature, const Vec3& at) const {
    const FoundKind kind = feature.kind;
    const bool is_opening = kind == FoundKind::hole || kind == FoundKind::slot;
    const bool is_long = kind == FoundKind::cylinder || kind == FoundKind::cone;
    const bool is_slot = kind == FoundKind::slot;
    const bool is_round = is_long || kind == FoundKind::hole || kind == FoundKind::sphere;
    const Vec3& axis = kind == FoundKind::sphere ? feature.toward : feature.axis;
    Fields f;
    f[0] = feature.name;
    f[1] = word_of(kind);
    for (std::size_t c = 0; c < 3; ++c) {
      f[2 + c] = length(at[static_cast<Eigen::Index>(c)]);
      f[5 + c] = number(axis[static_cast<Eigen::Index>(c)]);
      if (is_slot) f[15 + c] = number(feature.along[static_cast<Eigen::Index>(c)]);
    }
    if (is_round) f[8] = length(feature.diameter);
    if (is_opening) f[9] = length(feature.depth);
    if (is_long || is_slot) f[10] = length(feature.length);
    if (is_slot) f[11] = length(feature.width);
    if (kind == FoundKind::cone) f[12] = number(feature.angle_rad * (180 / std::numbers::pi));
    if (is_long) f[13] = feature.hollow ? "inside" : "outside";
    if (is_opening) f[14] = yes(feature.through);
    if (feature.tolerance) f[18] = length(*feature.tolerance);
    f[19] = yes(feature.datum);
    f[20] = feature.component;
    return f;
  }

  std::string_view units_;
  double mm_ = 0;
  std::vector<Fields> rows_;
};

}  // namespace

std::string feature_list_csv(const std::vector<FoundFeature>& features, std::string_view units) {
  Rows rows(units);
  for (const FoundFeature& feature : features) rows.add(feature);
  return rows.text();
}

}  // namespace standpoint
