#include "io/words/table.h"

#include <algorithm>
#include <ostream>

#include "io/words/text.h"

namespace standpoint {
namespace {

constexpr std::size_t kGap = 2;

void print_row(const std::vector<std::string>& cells, const std::vector<Column>& columns,
               const std::vector<std::size_t>& widths, std::ostream& out) {
  std::string line(kGap, ' ');
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const std::string padding(widths[c] - columns_of(cells[c]), ' ');
    line += columns[c].align == Align::right ? padding + cells[c] : cells[c] + padding;
    line.append(kGap, ' ');
  }
  line.erase(line.find_last_not_of(' ') + 1);
  out << line << '\n';
}

}  // namespace

void print(const Table& table, std::ostream& out) {
  if (table.rows.empty()) return;
  std::vector<std::vector<std::string>> rows;
  rows.emplace_back();
  for (const Column& column : table.columns) rows.back().push_back(for_terminal(column.title));
  for (const auto& row : table.rows) {
    rows.emplace_back();
    for (const std::string& cell : row) rows.back().push_back(for_terminal(cell));
  }
  std::vector<std::size_t> widths(table.columns.size(), 0);
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < row.size(); ++c)
      widths[c] = std::max(widths[c], columns_of(row[c]));
  }
  print_row(rows[0], table.columns, widths, out);
  std::vector<std::string> rule;
  for (const std::size_t width : widths) {
    rule.emplace_back();
    for (std::size_t i = 0; i < width; ++i) rule.back() += "\u2500";
  }
  print_row(rule, table.columns, widths, out);
  for (std::size_t r = 1; r < rows.size(); ++r) print_row(rows[r], table.columns, widths, out);
}

}  // namespace standpoint
