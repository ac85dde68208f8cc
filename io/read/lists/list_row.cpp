#include "io/read/lists/list_row.h"

#include <array>
#include <utility>

#include <fmt/format.h>

#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"

namespace standpoint {
namespace {

/// What spreadsheets write for true and false in German, French, Spanish, Italian, Portuguese,
/// Dutch, Polish and Czech (from memory), beside the plain words.
constexpr std::array<std::string_view, 12> kYes{"yes",  "y",          "true",      "1",
                                                "wahr", "vrai",       "verdadero", "vero",
                                                "waar", "verdadeiro", "prawda",    "pravda"};
constexpr std::array<std::string_view, 11> kNo{
    "no",           "n",       "false", "0", "falsch", "faux", "falso", "onwaar", "fa\xC5\x82sz",
    "fa\xC5\x81sz", "nepravda"};

template <std::size_t N>
bool is_among(std::string_view word, const std::array<std::string_view, N>& words) {
  for (const std::string_view candidate : words)
    if (candidate == word) return true;
  return false;
}

/// Whether it is a number but for what stands between its digits.
bool is_nearly_number(std::string_view text) {
  const bool has_digit = text.find_first_of("0123456789") != text.npos;
  return has_digit && text.find_first_not_of("0123456789+-.,'\xC2\xA0 ") == text.npos;
}

/// "a length in mm"; "a length" where the list states no unit.
std::string in_units(std::string_view what, const std::string& unit) {
  return unit.empty() ? std::string(what) : fmt::format("{} in {}", what, unit);
}

ListColumn after(ListColumn column, std::size_t steps) {
  return static_cast<ListColumn>(static_cast<std::size_t>(column) + steps);
}

}  // namespace

CsvPlace RowReader::place(ListColumn column) const {
  const auto field = table_.index(column);
  if (!field) return place();
  return *field < record_.places.size() ? record_.places[*field] : record_.end;
}

std::string_view RowReader::cell(ListColumn column) const {
  const auto field = table_.index(column);
  return field && *field < record_.fields.size() ? trim(record_.fields[*field])
                                                 : std::string_view();
}

void RowReader::fault(ListColumn column, FaultKind kind, std::string_view allowed,
                      std::string_view nearest) const {
  const std::string_view text = cell(column);
  if (text.empty() && table_.is_told(column)) return;
  faults_.add(place(column), text.empty() ? "" : short_text(text),
              text.empty() ? FaultKind::missing : kind,
              fmt::format("for {} {}", column_name(column), allowed), nearest);
}

std::optional<double> RowReader::number(ListColumn column, std::string_view what, double low,
                                        double high) const {
  const auto value = table_.number(cell(column));
  if (value && *value >= low && *value <= high) return value;
  const std::string rule = describe({what, low, high});
  if (value) {
    fault(column, FaultKind::out_of_range, rule);
  } else {
    fault(column, FaultKind::wrong_type,
          is_nearly_number(cell(column)) ? fmt::format("{}, {}", rule, table_.sign_words()) : rule);
  }
  return std::nullopt;
}

std::optional<std::string> RowReader::name() const {
  const std::string_view text = cell(ListColumn::name);
  if (is_plain_text(text, kLongestName)) return std::string(text);
  fault(ListColumn::name, FaultKind::bad_text, describe_text(kLongestName));
  return std::nullopt;
}

std::optional<Vec3> RowReader::at() const {
  Vec3 at = Vec3::Zero();
  bool is_whole = true;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    const ListColumn column = after(ListColumn::x, axis);
    const auto value = number(column, in_units("a coordinate", table_.unit(column)),
                              kCoordinate.low, kCoordinate.high);
    is_whole = is_whole && value.has_value();
    at[static_cast<Eigen::Index>(axis)] = value.value_or(0) * table_.mm(column);
  }
  if (!is_whole) return std::nullopt;
  return at;
}

std::optional<double> RowReader::length(ListColumn column) const {
  const auto value =
      number(column, in_units("a length", table_.unit(column)), kLength.low, kLength.high);
  if (!value) return std::nullopt;
  return *value * table_.mm(column);
}

std::optional<double> RowReader::angle(ListColumn column, const NumberRule& rule) const {
  return number(column, rule.what, rule.low, rule.high);
}

bool RowReader::has_direction(ListColumn first) const {
  return has(first) || has(after(first, 1)) || has(after(first, 2));
}

std::optional<Vec3> RowReader::direction(ListColumn first) const {
  Vec3 direction = Vec3::Zero();
  bool is_whole = true;
  for (std::size_t part = 0; part < 3; ++part) {
    const ListColumn column = after(first, part);
    const auto value = number(column, "a part of a direction", -1e9, 1e9);
    is_whole = is_whole && value.has_value();
    direction[static_cast<Eigen::Index>(part)] = value.value_or(0);
  }
  if (!is_whole) return std::nullopt;
  const double greatest = direction.cwiseAbs().maxCoeff();
  // Scaled first: the squares of tiny parts would vanish.
  if (greatest > 0) return Vec3(direction / greatest).normalized();
  faults_.add(
      place(first), short_text(cell(first)), FaultKind::zero_direction,
      fmt::format("for {}, {}, {} a direction with a length other than zero (it need not "
                  "be 1)",
                  column_name(first), column_name(after(first, 1)), column_name(after(first, 2))));
  return std::nullopt;
}

std::optional<bool> RowReader::flag(ListColumn column) const {
  const std::string word = lower_case(cell(column));
  if (is_among(word, kYes)) return true;
  if (is_among(word, kNo)) return false;
  fault(column, FaultKind::unknown_choice, "yes or no (or true or false, or 1 or 0)");
  return std::nullopt;
}

std::optional<std::size_t> RowReader::choice(ListColumn column,
                                             std::span<const std::string_view> words) const {
  const std::string word = lower_case(cell(column));
  for (std::size_t i = 0; i < words.size(); ++i)
    if (words[i] == word) return i;
  fault(column, FaultKind::unknown_choice, fmt::format("one of {}", fmt::join(words, ", ")),
        nearest_name(word, words));
  return std::nullopt;
}

void RowReader::expect_none(ListColumn column, std::string_view thing) const {
  if (!has(column)) return;
  const auto value = holds_numbers(column) ? table_.number(cell(column)) : std::nullopt;
  if (value == 0.0) return;
  fault(column, FaultKind::too_many_entries, fmt::format("nothing: {} has none", thing));
}

}  // namespace standpoint
