#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "geometry/vec.h"
#include "io/read/lists/list_table.h"
#include "io/read/text/value_rules.h"

namespace standpoint {

/// Reads the cells of one row. Each reader gives the value where it is there and allowed; otherwise
/// nothing, and has told why. Table, row and faults must outlive it. One thread.
class RowReader {
 public:
  RowReader(const ListTable& table, const CsvRecord& record, ListFaults& faults)
      : table_(table), record_(record), faults_(faults) {}

  /// Where the row begins.
  [[nodiscard]] CsvPlace place() const { return {record_.line, 1}; }
  [[nodiscard]] std::size_t line() const { return record_.line; }
  /// Where a cell stands; where the row begins if it has none.
  [[nodiscard]] CsvPlace place(ListColumn column) const;
  /// A cell without blanks at its ends; empty where nothing stands.
  [[nodiscard]] std::string_view cell(ListColumn column) const;
  [[nodiscard]] bool has(ListColumn column) const { return !cell(column).empty(); }

  /// Tells what is wrong with a cell; `allowed` goes on after "for COLUMN".
  void fault(ListColumn column, FaultKind kind, std::string_view allowed,
             std::string_view nearest = {}) const;

  /// A name of 1 to 200 characters.
  [[nodiscard]] std::optional<std::string> name() const;
  /// x, y, z in mm.
  [[nodiscard]] std::optional<Vec3> at() const;
  /// A length of more than zero, mm.
  [[nodiscard]] std::optional<double> length(ListColumn column) const;
  /// An angle in degrees, as `rule` allows.
  [[nodiscard]] std::optional<double> angle(ListColumn column, const NumberRule& rule) const;
  /// Whether one of three parts of a direction is there.
  [[nodiscard]] bool has_direction(ListColumn first) const;
  /// Three columns, `first` and the two after it, as a unit vector. A part that is missing is told.
  [[nodiscard]] std::optional<Vec3> direction(ListColumn first) const;
  /// Yes or no, in some languages' words for true and false too.
  [[nodiscard]] std::optional<bool> flag(ListColumn column) const;
  /// One of several words, in any case: its place among them.
  [[nodiscard]] std::optional<std::size_t> choice(ListColumn column,
                                                  std::span<const std::string_view> words) const;
  /// Tells a cell that holds something though `thing` ("a hole") has no such value. 0 says nothing:
  /// some spreadsheets fill it in.
  void expect_none(ListColumn column, std::string_view thing) const;

 private:
  [[nodiscard]] std::optional<double> number(ListColumn column, std::string_view what, double low,
                                             double high) const;

  const ListTable& table_;
  const CsvRecord& record_;
  ListFaults& faults_;
};

}  // namespace standpoint
