#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace standpoint {

/// The columns that a list may have (docs/lists.md), in the order in which they are told.
enum class ListColumn {
  name,
  x,
  y,
  z,
  i,
  j,
  k,
  type,
  diameter,
  depth,
  length,
  width,
  angle,
  side,
  through,
  along_i,
  along_j,
  along_k,
  seat,
  tolerance,
  required,
  datum,
  note,
  count_  ///< how many there are; no column
};
inline constexpr std::size_t kColumnCount = static_cast<std::size_t>(ListColumn::count_);

/// What stands in a column's cells.
enum class CellSort { text, length, direction, angle };

[[nodiscard]] std::string_view column_name(ListColumn column);
[[nodiscard]] CellSort cell_sort(ListColumn column);
/// Whether its cells hold numbers. O(1).
[[nodiscard]] inline bool holds_numbers(ListColumn column) {
  return cell_sort(column) != CellSort::text;
}

/// The heading of a column, taken apart.
struct Heading {
  std::string name;  ///< in lower case, blanks as underscores
  std::string unit;  ///< as it stands; empty where none is stated
};

/// Takes "x", "X [mm]", "x (in)" or "x/mm" apart. O(length).
[[nodiscard]] Heading parse_heading(std::string_view text);

/// The column of this name; nothing where none has it. O(1).
[[nodiscard]] std::optional<ListColumn> column_of(std::string_view name);
/// The name of the column that was most likely meant; empty where none is near. O(1).
[[nodiscard]] std::string_view nearest_column(std::string_view name);
/// "name, x, y, ...": all columns, for a fault.
[[nodiscard]] std::string all_columns();

/// A unit of length by its name, in any case: what one of it is in mm. O(1).
[[nodiscard]] std::optional<double> mm_per(std::string_view unit);
/// Whether these words mean degrees: "deg" or the sign. O(1).
[[nodiscard]] bool means_degrees(std::string_view unit);
/// "mm, cm, m, in, ft": for a fault.
[[nodiscard]] std::string all_units();

/// `text` without blanks at its ends: space, tab and the no-break space of typesetting. O(n).
[[nodiscard]] std::string_view trim(std::string_view text);
/// ASCII letters in lower case, all else as it is. O(n).
[[nodiscard]] std::string lower_case(std::string_view text);

}  // namespace standpoint
