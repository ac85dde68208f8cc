#include "text_files.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <set>
#include <sstream>

namespace standpoint::house {
namespace {

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    lines.push_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

std::string_view without_comment_mark(std::string_view line, bool is_document) {
  const std::size_t start = line.find_first_not_of(" \t");
  line.remove_prefix(std::min(start, line.size()));
  if (is_document) return line;
  line.remove_prefix(std::min(line.find_first_not_of("/*<#!"), line.size()));
  return line;
}

}  // namespace

bool has_ending(std::string_view text, std::string_view ending) {
  return text.size() >= ending.size() && text.substr(text.size() - ending.size()) == ending;
}

std::vector<std::string> names_below(const std::filesystem::path& root) {
  static const std::set<std::string> left_behind = {".git", ".cache", "build", "out",
                                                    "node_modules"};
  std::vector<std::string> names;
  for (auto entry = std::filesystem::recursive_directory_iterator(root);
       entry != std::filesystem::recursive_directory_iterator(); ++entry) {
    if (left_behind.contains(entry->path().filename().string())) {
      entry.disable_recursion_pending();
      continue;
    }
    names.push_back(entry->path().lexically_relative(root).generic_string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

bool is_written_by_hand(std::string_view name) {
  static constexpr std::array<std::string_view, 11> endings = {
      ".h", ".cpp", ".md", ".ts", ".mjs", ".py", ".sh", ".cmake", ".css", ".in", "CMakeLists.txt"};
  return std::any_of(endings.begin(), endings.end(),
                     [&](std::string_view ending) { return has_ending(name, ending); });
}

std::string text_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

Prose::Prose(std::string_view text, bool is_document) {
  for (const std::string_view line : lines_of(text)) {
    line_starts_.push_back(text_.size());
    for (const char c : without_comment_mark(line, is_document)) {
      const bool is_blank = c == ' ' || c == '\t' || c == '\r';
      if (is_blank && (text_.empty() || text_.back() == ' ')) continue;
      text_ += is_blank ? ' ' : c;
    }
    if (!text_.empty() && text_.back() != ' ') text_ += ' ';
  }
}

std::size_t Prose::line_at(std::size_t place) const {
  const auto next = std::upper_bound(line_starts_.begin(), line_starts_.end(), place);
  return static_cast<std::size_t>(next - line_starts_.begin());
}

void Prose::blank(std::size_t place, std::size_t length) {
  std::fill_n(text_.begin() + static_cast<std::ptrdiff_t>(place), length, '~');
}

std::vector<CodeSpan> code_spans(std::string_view markdown) {
  std::vector<CodeSpan> spans;
  std::string span, between;
  bool is_fenced = false, is_open = false, follows_blank = true;
  std::size_t number = 0, opened_at = 0;
  for (const std::string_view line : lines_of(markdown)) {
    ++number;
    const std::size_t first = line.find_first_not_of(" \t");
    if (first == std::string_view::npos) {
      follows_blank = true;
      is_open = false;  // a paragraph ends: a backtick without its pair opened nothing
      between.clear();
      continue;
    }
    if (line.substr(first, 3) == "```") {
      is_fenced = !is_fenced;
      continue;
    }
    // Set in after an empty line, or going on so: a block of code.
    if (is_fenced || (first >= 4 && follows_blank)) continue;
    follows_blank = false;
    (is_open ? span : between) += ' ';
    for (const char c : line) {
      if (c != '`') {
        (is_open ? span : between) += c;
        continue;
      }
      if (is_open) {
        spans.push_back({span, opened_at, between == ": "});
        between.clear();
      }
      is_open = !is_open;
      opened_at = number;
      span.clear();
    }
  }
  return spans;
}

}  // namespace standpoint::house
