#include "io/read/lists/list_table.h"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <utility>

#include <fmt/format.h>

#include "io/read/text/decimal_number.h"
#include "io/read/text/json_value.h"
#include "io/words/text.h"

namespace standpoint {
namespace {

constexpr std::array<ListColumn, 4> kNeeded{ListColumn::name, ListColumn::x, ListColumn::y,
                                            ListColumn::z};
constexpr std::array<ListColumn, 3> kPlace{ListColumn::x, ListColumn::y, ListColumn::z};
/// Columns that say something only together.
constexpr std::array<std::array<ListColumn, 3>, 2> kTogether{
    {{ListColumn::i, ListColumn::j, ListColumn::k},
     {ListColumn::along_i, ListColumn::along_j, ListColumn::along_k}}};

std::size_t number_of(ListColumn column) {
  return static_cast<std::size_t>(column);
}

bool is_blank(const CsvRecord& record) {
  return record.defect.empty() &&
         std::all_of(record.fields.begin(), record.fields.end(),
                     [](const std::string& field) { return trim(field).empty(); });
}

/// The record as it stands, for a fault.
std::string as_value(const CsvRecord& record, char separator) {
  return short_text(fmt::format("{}", fmt::join(record.fields, std::string(1, separator))));
}

std::optional<CsvRecord> next_not_blank(CsvReader& reader) {
  auto record = reader.next();
  while (record && is_blank(*record)) record = reader.next();
  return record;
}

std::size_t known_columns(const CsvRecord& header) {
  return static_cast<std::size_t>(std::count_if(
      header.fields.begin(), header.fields.end(),
      [](const std::string& field) { return column_of(parse_heading(field).name).has_value(); }));
}

std::string header_words() {
  return "the header row name, x, y, z and below it a row for each entry";
}

}  // namespace

ListTable::ListTable(std::string_view bytes, const ListOptions& options, ListFaults& faults)
    : faults_(faults), text_(bytes) {
  assert(!options.units || mm_per(*options.units));
  assert(!options.default_units || mm_per(*options.default_units));
  if (!is_in_utf8(bytes)) return;
  take_separator();
  take_header(options);
  if (is_usable_) find_decimal_sign();
}

/// UTF-16 is told by its mark or by the zero bytes that it has in plain letters. Bytes of another
/// encoding are told where they stand.
bool ListTable::is_in_utf8(std::string_view bytes) {
  const std::string_view start = bytes.substr(0, 2);
  const bool is_utf16 =
      start == "\xFF\xFE" || start == "\xFE\xFF" || start.find('\0') != start.npos;
  if (is_utf16)
    faults_.add_for_file("text in UTF-16", FaultKind::bad_text,
                         "text in UTF-8: save the list as CSV in UTF-8");
  return !is_utf16;
}

/// The separator is the one by which the header has the most columns that are known.
void ListTable::take_separator() {
  std::string_view first = text_;
  if (first.substr(0, 3) == "\xEF\xBB\xBF") first.remove_prefix(3);
  if (lower_case(first.substr(0, 4)) == "sep=" && first.size() > 4 &&
      std::string_view(",;\t").find(first[4]) != std::string_view::npos &&
      (first.size() == 5 || first[5] == '\r' || first[5] == '\n')) {
    has_separator_line_ = true;
    separator_ = first[4];
    return;
  }
  std::size_t most = 0;
  std::size_t most_fields = 0;
  for (const char candidate : {',', ';', '\t'}) {
    CsvReader reader(text_, candidate);
    const auto header = next_not_blank(reader);
    if (!header) return;
    const std::size_t known = known_columns(*header);
    const bool is_better = known > most || (known == most && header->fields.size() > most_fields);
    if (!is_better) continue;
    most = known;
    most_fields = header->fields.size();
    separator_ = candidate;
  }
}

CsvReader ListTable::rows() const {
  CsvReader reader(text_, separator_);
  if (has_separator_line_) (void)reader.next();
  (void)next_not_blank(reader);
  return reader;
}

void ListTable::take_header(const ListOptions& options) {
  CsvReader reader(text_, separator_);
  if (has_separator_line_) (void)reader.next();
  const auto header = next_not_blank(reader);
  if (!header) return faults_.add_for_file("", FaultKind::missing, header_words());
  header_place_ = {header->line, 1};
  if (known_columns(*header) == 0)
    return faults_.add(header_place_, as_value(*header, separator_), FaultKind::syntax,
                       header_words());
  if (!is_sound(*header)) return;
  has_heading_.assign(header->fields.size(), true);
  for (std::size_t field = 0; field < header->fields.size(); ++field) take_column(*header, field);
  check_columns(*header);
  take_units(options);
  is_usable_ = true;
}

/// Tells which columns the header lacks.
void ListTable::check_columns(const CsvRecord& header) {
  std::vector<std::string_view> missing;
  const auto need = [&](ListColumn column) {
    if (index(column)) return;
    missing.push_back(column_name(column));
    is_told_[number_of(column)] = true;
  };
  for (const ListColumn column : kNeeded) need(column);
  for (const auto& together : kTogether) {
    if (std::none_of(together.begin(), together.end(), [&](ListColumn c) { return index(c); }))
      continue;
    for (const ListColumn column : together) need(column);
  }
  if (!missing.empty())
    faults_.add(header_place_, as_value(header, separator_), FaultKind::missing,
                fmt::format("a header with {} too", fmt::join(missing, ", ")));
}

void ListTable::take_column(const CsvRecord& header, std::size_t field) {
  const std::string& text = header.fields[field];
  const CsvPlace& place = header.places[field];
  const Heading heading = parse_heading(text);
  if (heading.name.empty()) {
    has_heading_[field] = false;
    return;
  }
  const auto column = column_of(heading.name);
  if (!column)
    return faults_.add(place, short_text(trim(text)), FaultKind::unknown_choice,
                       fmt::format("one of the columns {}", all_columns()),
                       nearest_column(heading.name));
  const std::size_t number = number_of(*column);
  if (index_[number])
    return faults_.add(place, short_text(trim(text)), FaultKind::duplicate_entry,
                       fmt::format("each column once; field {} is the same", *index_[number] + 1));
  index_[number] = field;
  heading_place_[number] = place;
  heading_[number] = trim(text);
  if (heading.unit.empty()) return;
  const CellSort sort = cell_sort(*column);
  if (sort == CellSort::length && mm_per(heading.unit)) {
    unit_[number] = lower_case(heading.unit);
  } else if (sort != CellSort::angle || !means_degrees(heading.unit)) {
    faults_.add(place, short_text(trim(text)), FaultKind::unknown_choice,
                sort == CellSort::length  ? fmt::format("one of the units {}", all_units())
                : sort == CellSort::angle ? "the unit deg, or none"
                                          : "a heading without a unit");
  }
}

/// The one unit of x, y and z: a heading's, the caller's, or where neither states one the default.
std::string ListTable::unit_of_places(const ListOptions& options) {
  std::string unit = options.units ? lower_case(*options.units) : "";
  for (const ListColumn column : kPlace) {
    const std::string& stated = unit_[number_of(column)];
    if (stated.empty() || stated == unit) continue;
    if (unit.empty()) {
      unit = stated;
    } else {
      faults_.add(heading_place_[number_of(column)], short_text(heading_[number_of(column)]),
                  FaultKind::other,
                  options.units
                      ? fmt::format("{}, which is stated as the list's unit, or none", unit)
                      : fmt::format("{}, one unit for x, y and z", unit));
    }
  }
  if (unit.empty() && options.default_units) unit = lower_case(*options.default_units);
  return unit;
}

void ListTable::take_units(const ListOptions& options) {
  const std::string common = unit_of_places(options);
  if (common.empty()) {
    const ListColumn first = index(ListColumn::x) ? ListColumn::x : ListColumn::name;
    faults_.add(index(first) ? heading_place_[number_of(first)] : header_place_, "",
                FaultKind::missing,
                "the unit of the lengths: in the header, as in \"x [mm]\", or by --units mm");
  }
  for (std::size_t number = 0; number < kColumnCount; ++number) {
    std::string& unit = unit_[number];
    if (cell_sort(static_cast<ListColumn>(number)) != CellSort::length) continue;
    if (unit.empty()) unit = common;
    mm_[number] = mm_per(unit).value_or(1);  // 1 where it is told already that there is none
  }
}

/// The list's decimal sign is the one that its first number with a fraction has.
void ListTable::find_decimal_sign() {
  if (separator_ == ',') return;
  CsvReader reader = rows();
  while (const auto record = reader.next()) {
    for (std::size_t number = 0; number < kColumnCount; ++number) {
      const auto field = index_[number];
      if (!field || !holds_numbers(static_cast<ListColumn>(number))) continue;
      if (*field >= record->fields.size()) continue;
      const std::string_view cell = record->fields[*field];
      const std::size_t at = cell.find_first_of(".,");
      if (at == cell.npos || cell.find_first_of(".,", at + 1) != cell.npos) continue;
      decimal_sign_ = cell[at];
      sign_line_ = record->places[*field].line;
      return;
    }
  }
}

std::optional<double> ListTable::number(std::string_view text) const {
  constexpr std::string_view kMinus = "\xE2\x88\x92";
  std::string plain(trim(text));
  if (plain.compare(0, kMinus.size(), kMinus) == 0) plain.replace(0, kMinus.size(), "-");
  if (decimal_sign_ == ',') {
    if (plain.find('.') != plain.npos) return std::nullopt;
    std::replace(plain.begin(), plain.end(), ',', '.');
  }
  return decimal_number(plain);
}

std::string ListTable::sign_words() const {
  if (decimal_sign_ == ',')
    return fmt::format("with a decimal comma, as in line {}, and nothing between thousands",
                       sign_line_);
  if (sign_line_ > 0)
    return fmt::format("with a decimal point, as in line {}, and nothing between thousands",
                       sign_line_);
  return separator_ == ',' ? "with a decimal point, since commas part the columns"
                           : "with one decimal sign and nothing between thousands";
}

/// Tells what keeps a record from being taken apart into cells.
bool ListTable::is_sound(const CsvRecord& record) {
  if (!record.defect.empty()) {
    faults_.add({record.line, 1}, as_value(record, separator_), FaultKind::syntax,
                fmt::format("fields quoted as RFC 4180 has it; this row has {}", record.defect));
    return false;
  }
  bool is_good = true;
  for (std::size_t i = 0; i < record.fields.size(); ++i) {
    const std::string& field = record.fields[i];
    if (well_formed(field) == field) continue;
    is_good = false;
    faults_.add(record.places[i], short_text(field), FaultKind::bad_text,
                "text in UTF-8: save the list as CSV in UTF-8");
  }
  return is_good;
}

void ListTable::for_each_row(const Row& row) {
  if (!is_usable_) return;
  CsvReader reader = rows();
  std::size_t count = 0;
  while (const auto record = next_not_blank(reader)) {
    if (++count > kMostRows)
      return faults_.add({record->line, 1}, "one more row", FaultKind::list_too_long,
                         fmt::format("at most {} rows", kMostRows));
    if (!is_sound(*record)) continue;
    std::size_t beyond = record->fields.size();
    for (std::size_t i = record->fields.size(); i-- > 0;) {
      const bool is_named = i < has_heading_.size() && has_heading_[i];
      if (!is_named && !trim(record->fields[i]).empty()) beyond = i;
    }
    if (beyond < record->fields.size()) {
      faults_.add(record->places[beyond], short_text(trim(record->fields[beyond])),
                  FaultKind::too_many_entries,
                  separator_ == ','
                      ? "nothing without a heading; with commas between the columns numbers have a "
                        "decimal point"
                      : "nothing without a heading");
      continue;
    }
    row(*record);
  }
  if (count == 0)
    faults_.add({header_place_.line + 1, 1}, "", FaultKind::missing,
                "a row for each entry below the header");
}

}  // namespace standpoint
