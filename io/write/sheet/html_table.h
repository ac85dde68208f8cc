#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "standpoint/scene.h"

namespace standpoint::markup {

// Pieces of HTML tables and lists. Text is made safe where it says so.

struct Head {
  std::string title;  ///< plain text
  bool is_number = false;
};

/// One <tr> of column heads; made safe.
[[nodiscard]] std::string heads_row(const std::vector<Head>& heads);

/// A <td> of plain text, made safe. One that has no place to break may break anywhere, so that no
/// name makes a table wider than the paper; others are kept whole.
[[nodiscard]] std::string cell(std::string_view text, bool is_number = false);

/// The <th> that names a row, likewise.
[[nodiscard]] std::string row_head(std::string_view text);

/// A <td> of a number; a dash where it is empty or "-"; bold where it is low.
[[nodiscard]] std::string number_cell(const std::string& text, bool is_low = false);

/// A <td> to write into by hand, of a class that gives its width.
[[nodiscard]] std::string blank_cell(std::string_view kind);

/// A <ul> of plain texts, made safe.
[[nodiscard]] std::string list_items(std::string_view kind, const std::vector<std::string>& texts);

/// One of our own phrases with its first letter made large. Only ASCII.
[[nodiscard]] std::string capitalised(std::string text);

/// "margin (mm)"
[[nodiscard]] std::string with_unit(std::string_view what, const Scene& scene);

/// The names of nests, not made safe; a dash for none.
[[nodiscard]] std::string nest_list(const Scene& scene, const std::vector<NestId>& nests);

}  // namespace standpoint::markup
