#pragma once

#include <iosfwd>
#include <string_view>

namespace standpoint {

/// Prints `text`, made safe for a terminal, as a paragraph: `first` before its first line, as many
/// spaces before the others, broken at spaces so that no line is longer than 96 columns (a longer
/// word stands alone). Ends the line. O(n).
void print_paragraph(std::string_view first, std::string_view text, std::ostream& out);

}  // namespace standpoint
