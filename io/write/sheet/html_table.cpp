#include "io/write/sheet/html_table.h"

#include <algorithm>

#include <fmt/format.h>

#include "io/words/text.h"

namespace standpoint::markup {

namespace {

/// Whether a table would have to stretch for one of its words.
bool has_long_word(std::string_view text) {
  constexpr std::size_t kMostLetters = 20;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    if (columns_of(text.substr(0, end)) > kMostLetters) return true;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return false;
}

}  // namespace

std::string heads_row(const std::vector<Head>& heads) {
  std::string row = "<tr>";
  for (const Head& head : heads) {
    row += fmt::format("<th scope=\"col\"{}>{}</th>", head.is_number ? " class=\"n\"" : "",
                       for_markup(head.title));
  }
  return row + "</tr>\n";
}

std::string cell(std::string_view text, bool is_number) {
  const char* kind = is_number ? " class=\"n\"" : has_long_word(text) ? " class=\"long\"" : "";
  return fmt::format("<td{}>{}</td>", kind, for_markup(text));
}

std::string row_head(std::string_view text) {
  return fmt::format("<th scope=\"row\"{}>{}</th>", has_long_word(text) ? " class=\"long\"" : "",
                     for_markup(text));
}

std::string number_cell(const std::string& text, bool is_low) {
  if (is_low) return fmt::format("<td class=\"n\"><strong>{}</strong></td>", for_markup(text));
  return cell(text == "-" || text.empty() ? "\u2013" : text, true);
}

std::string blank_cell(std::string_view kind) {
  return fmt::format("<td class=\"blank {}\"></td>", kind);
}

std::string list_items(std::string_view kind, const std::vector<std::string>& texts) {
  std::string html = kind.empty() ? "<ul>\n" : fmt::format("<ul class=\"{}\">\n", kind);
  for (const std::string& text : texts) html += "<li>" + for_markup(text) + "</li>\n";
  return html + "</ul>\n";
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

std::string with_unit(std::string_view what, const Scene& scene) {
  return fmt::format("{} ({})", what, scene.units);
}

std::string nest_list(const Scene& scene, const std::vector<NestId>& nests) {
  std::vector<std::string> names;
  names.reserve(nests.size());
  for (const NestId nest : nests) names.push_back(scene.nests[nest.index].name);
  return nests.empty() ? "\u2013" : fmt::format("{}", fmt::join(names, ", "));
}

}  // namespace standpoint::markup
