#include "io/read/lists/list_columns.h"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "io/read/text/nearest_name.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

struct ColumnRule {
  ListColumn column;
  std::string_view name;
  CellSort sort;
};

constexpr std::array<ColumnRule, kColumnCount> kColumns{{
    {ListColumn::name, "name", CellSort::text},
    {ListColumn::x, "x", CellSort::length},
    {ListColumn::y, "y", CellSort::length},
    {ListColumn::z, "z", CellSort::length},
    {ListColumn::i, "i", CellSort::direction},
    {ListColumn::j, "j", CellSort::direction},
    {ListColumn::k, "k", CellSort::direction},
    {ListColumn::type, "type", CellSort::text},
    {ListColumn::diameter, "diameter", CellSort::length},
    {ListColumn::depth, "depth", CellSort::length},
    {ListColumn::length, "length", CellSort::length},
    {ListColumn::width, "width", CellSort::length},
    {ListColumn::angle, "angle", CellSort::angle},
    {ListColumn::side, "side", CellSort::text},
    {ListColumn::through, "through", CellSort::text},
    {ListColumn::along_i, "along_i", CellSort::direction},
    {ListColumn::along_j, "along_j", CellSort::direction},
    {ListColumn::along_k, "along_k", CellSort::direction},
    {ListColumn::seat, "seat", CellSort::angle},
    {ListColumn::tolerance, "tolerance", CellSort::length},
    {ListColumn::required, "required", CellSort::text},
    {ListColumn::datum, "datum", CellSort::text},
    {ListColumn::note, "note", CellSort::text},
}};

constexpr bool in_order() {
  for (std::size_t i = 0; i < kColumnCount; ++i)
    if (kColumns[i].column != static_cast<ListColumn>(i)) return false;
  return true;
}
static_assert(in_order(), "one rule for each column, in the order of the enumeration");

const ColumnRule& rule_of(ListColumn column) {
  return kColumns[static_cast<std::size_t>(column)];
}

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";

std::array<std::string_view, kColumnCount> names() {
  std::array<std::string_view, kColumnCount> all;
  std::transform(kColumns.begin(), kColumns.end(), all.begin(),
                 [](const ColumnRule& rule) { return rule.name; });
  return all;
}

}  // namespace

std::string_view column_name(ListColumn column) {
  return rule_of(column).name;
}

CellSort cell_sort(ListColumn column) {
  return rule_of(column).sort;
}

std::string_view trim(std::string_view text) {
  for (std::size_t before = text.size() + 1; before != text.size();) {
    before = text.size();
    if (text.substr(0, 1).find_first_of(" \t") == 0) text.remove_prefix(1);
    if (text.substr(0, 2) == kNoBreakSpace) text.remove_prefix(2);
    if (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
    if (text.size() >= 2 && text.substr(text.size() - 2) == kNoBreakSpace) text.remove_suffix(2);
  }
  return text;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

Heading parse_heading(std::string_view text) {
  text = trim(text);
  Heading heading;
  const std::size_t mark = text.find_first_of("[(/");
  std::string_view name = text;
  if (mark != text.npos && mark > 0) {
    std::string_view unit = text.substr(mark + 1);
    const char closing = text[mark] == '[' ? ']' : ')';
    const bool is_closed = text[mark] == '/' || (!unit.empty() && unit.back() == closing);
    if (is_closed) {
      if (text[mark] != '/') unit.remove_suffix(1);
      heading.unit = trim(unit);
      name = trim(text.substr(0, mark));
    }
  }
  heading.name = lower_case(name);
  std::replace(heading.name.begin(), heading.name.end(), ' ', '_');
  return heading;
}

std::optional<ListColumn> column_of(std::string_view name) {
  for (const ColumnRule& rule : kColumns)
    if (rule.name == name) return rule.column;
  return std::nullopt;
}

std::string_view nearest_column(std::string_view name) {
  return nearest_name(name, names());
}

std::string all_columns() {
  return fmt::format("{}", fmt::join(names(), ", "));
}

std::optional<double> mm_per(std::string_view unit) {
  const std::string lower = lower_case(unit);
  for (std::size_t i = 0; i < kUnitNames.size(); ++i)
    if (kUnitNames[i] == lower) return kMmPerUnit[i];
  return std::nullopt;
}

bool means_degrees(std::string_view unit) {
  return lower_case(unit) == "deg" || unit == "\xC2\xB0";
}

std::string all_units() {
  return fmt::format("{}", fmt::join(kUnitNames, ", "));
}

}  // namespace standpoint
