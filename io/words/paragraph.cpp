#include "io/words/paragraph.h"

#include <ostream>
#include <string>

#include "io/words/text.h"

namespace standpoint {

void print_paragraph(std::string_view first, std::string_view text, std::ostream& out) {
  constexpr std::size_t kColumns = 96;
  const std::string clean = for_terminal(text);
  const std::size_t indent = columns_of(first);
  std::string line(first);
  std::size_t column = indent;
  bool is_line_empty = true;
  for (std::size_t i = 0; i <= clean.size();) {
    const std::size_t end = std::min(clean.find(' ', i), clean.size());
    const std::string_view word = std::string_view(clean).substr(i, end - i);
    const std::size_t width = columns_of(word);
    if (!is_line_empty && column + 1 + width > kColumns) {
      out << line << '\n';
      line.assign(indent, ' ');
      column = indent;
      is_line_empty = true;
    }
    if (!is_line_empty) {
      line += ' ';
      ++column;
    }
    line += word;
    column += width;
    is_line_empty = false;
    i = end + 1;
  }
  out << line << '\n';
}

}  // namespace standpoint
