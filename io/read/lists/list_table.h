#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/read/lists/list_columns.h"
#include "io/read/lists/list_faults.h"
#include "io/read/text/csv_reader.h"

namespace standpoint {

/// What the caller knows of a list before reading it.
struct ListOptions {
  std::string file;  ///< what it is called in faults
  /// The unit of its lengths as the caller states it: a scene's list ("units") or an option. A
  /// heading that states another one is a fault. Precondition: one of `kUnitNames`.
  std::optional<std::string> units;
  /// The unit where neither the caller nor a heading states one: a scene's own. Without it such a
  /// list is a fault that asks for `--units`. Precondition: one of `kUnitNames`.
  std::optional<std::string> default_units;
  /// An inside cylinder of a QIF document that is wider than this is no hole, mm (contract section
  /// 8).
  double holes_up_to = 60;
};

/// A list as a table: how its text is written and what its columns are. The text must outlive it.
/// What is wrong with a cell is told by who reads it (`RowReader`).
class ListTable {
 public:
  static constexpr std::size_t kMostRows = 1'000'000;

  /// Takes the first lines of a list apart: encoding, separator, header, units. Every fault goes
  /// to `faults`. O(n): the decimal sign is looked for in the whole text.
  ListTable(std::string_view bytes, const ListOptions& options, ListFaults& faults);

  /// One of its rows, cells in the order of the columns of the file.
  using Row = std::function<void(const CsvRecord&)>;
  /// Calls `row` for each row that can be read, in order; the others are told. Blank rows are
  /// passed over. A list without a row is told. Nothing happens where the header is unusable. O(n).
  void for_each_row(const Row& row);

  /// Where a column stands among the fields of a row; nothing where the list does not have it.
  [[nodiscard]] std::optional<std::size_t> index(ListColumn column) const {
    return index_[static_cast<std::size_t>(column)];
  }
  /// Whether the header has been told to lack a column: no row need tell it again.
  [[nodiscard]] bool is_told(ListColumn column) const {
    return is_told_[static_cast<std::size_t>(column)];
  }
  /// What one unit of a column of lengths is in mm.
  [[nodiscard]] double mm(ListColumn column) const { return mm_[static_cast<std::size_t>(column)]; }
  /// The unit of a column of lengths, for a fault.
  [[nodiscard]] const std::string& unit(ListColumn column) const {
    return unit_[static_cast<std::size_t>(column)];
  }

  /// The number that a cell's text is, in the list's decimal sign; nothing for any other text. A
  /// minus may be the sign of typesetting (U+2212). O(length).
  [[nodiscard]] std::optional<double> number(std::string_view text) const;
  /// "with a decimal point", and why where it is not plain: for a fault.
  [[nodiscard]] std::string sign_words() const;

 private:
  [[nodiscard]] bool is_in_utf8(std::string_view bytes);
  void take_separator();
  void take_header(const ListOptions& options);
  void take_column(const CsvRecord& header, std::size_t field);
  void check_columns(const CsvRecord& header);
  void take_units(const ListOptions& options);
  [[nodiscard]] std::string unit_of_places(const ListOptions& options);
  [[nodiscard]] bool is_sound(const CsvRecord& record);
  void find_decimal_sign();
  /// A reader that stands behind the header.
  [[nodiscard]] CsvReader rows() const;

  ListFaults& faults_;
  std::string_view text_;
  bool has_separator_line_ = false;  ///< "sep=;", as some spreadsheets write
  char separator_ = ',';
  char decimal_sign_ = '.';
  std::size_t sign_line_ = 0;  ///< the first line that shows the decimal sign; 0: none does
  bool is_usable_ = false;
  std::vector<bool> has_heading_;  ///< of each field of the header
  CsvPlace header_place_;
  std::array<std::optional<std::size_t>, kColumnCount> index_{};
  std::array<bool, kColumnCount> is_told_{};
  std::array<CsvPlace, kColumnCount> heading_place_{};
  std::array<std::string, kColumnCount> heading_;  ///< as it stands
  std::array<std::string, kColumnCount> unit_;     ///< first as stated, then as it holds
  std::array<double, kColumnCount> mm_{};
};

}  // namespace standpoint
