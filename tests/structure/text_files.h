#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace standpoint::house {

/// Everything below `root` that belongs to the project, ascending, relative to `root`, with '/'
/// between folders: files and folders. Left out is what building, running and git leave behind.
std::vector<std::string> names_below(const std::filesystem::path& root);

/// Whether people write this file by hand: sources, scripts, documents. Data is not.
bool is_written_by_hand(std::string_view name);

bool has_ending(std::string_view text, std::string_view ending);

std::string text_of(const std::filesystem::path& file);

/// A text as it reads: lines joined, marks of comments at their beginnings taken off, one blank
/// between words. So a phrase is found also where a line ends inside it.
class Prose {
 public:
  /// `is_document`: Markdown, where `#` begins a heading and no comment.
  Prose(std::string_view text, bool is_document);

  [[nodiscard]] const std::string& text() const { return text_; }
  /// The line of the file, from 1, that holds this place of the text.
  [[nodiscard]] std::size_t line_at(std::size_t place) const;
  /// Blanks a part of the text, so that it is not found again.
  void blank(std::size_t place, std::size_t length);

 private:
  std::string text_;
  std::vector<std::size_t> line_starts_;
};

/// The pieces of Markdown in backticks, with their lines. Code that stands by itself (fenced, or
/// set in by four blanks) is left out: that is commands and examples.
struct CodeSpan {
  std::string text;
  std::size_t line = 0;     ///< from 1
  bool is_of_last = false;  ///< written "`last`: `this`"
};
std::vector<CodeSpan> code_spans(std::string_view markdown);

}  // namespace standpoint::house
