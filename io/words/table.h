#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace standpoint {

enum class Align { left, right };

struct Column {
  std::string title;
  Align align = Align::left;
};

/// A table for the terminal: a title row, a rule, rows; columns two spaces apart.
struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;  ///< each as long as `columns`
};

/// Prints the table, indented by two spaces; cells are made safe for a terminal. No trailing
/// spaces. Prints nothing where there are no rows.
void print(const Table& table, std::ostream& out);

}  // namespace standpoint
