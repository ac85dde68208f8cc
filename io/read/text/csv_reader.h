#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

/// Where something stands in a text.
struct CsvPlace {
  std::size_t line = 1;    ///< from 1
  std::size_t column = 1;  ///< in characters, from 1
};

/// One record of a CSV text.
struct CsvRecord {
  std::size_t line = 1;             ///< on which it begins, from 1
  std::vector<std::string> fields;  ///< without their quotes
  std::vector<CsvPlace> places;     ///< where each field begins, at its quote where it has one
  CsvPlace end;                     ///< behind its last field
  /// What is wrong with its quoting, in plain words; empty where nothing is. `fields` are then as
  /// far as understood.
  std::string defect;
};

/// Reads a CSV text (RFC 4180) record by record: fields apart by one separator, quoted where they
/// hold it, a quote (doubled) or a line's end. CRLF, LF or CR end a record; records without any
/// character are left out; a UTF-8 byte order mark is skipped. A quote where none may be is told in
/// `defect`; a quote that is never closed ends with the text. One thread; the text must outlive it.
class CsvReader {
 public:
  /// Of one record: what is beyond is told in `defect` and left out, or a line of separators would
  /// cost many times its length.
  static constexpr std::size_t kMostFields = 10'000;

  /// Precondition: `separator` is neither a quote nor a line's end.
  explicit CsvReader(std::string_view text, char separator = ',');

  /// The next record; nothing at the end. O(its length).
  [[nodiscard]] std::optional<CsvRecord> next();

 private:
  [[nodiscard]] bool is_at(char c) const { return at_ < text_.size() && text_[at_] == c; }
  [[nodiscard]] bool ends_record() const {
    return at_ >= text_.size() || text_[at_] == '\n' || text_[at_] == '\r';
  }
  void step();
  CsvRecord read_record();
  void read_field(CsvRecord& record);
  std::string read_plain(CsvRecord& record);
  std::string read_quoted(CsvRecord& record);
  [[nodiscard]] bool is_line_end() const;
  void take_line_end();

  std::string_view text_;
  char separator_;
  std::size_t at_ = 0;
  CsvPlace place_;
};

/// All records of a CSV text. O(n).
[[nodiscard]] std::vector<CsvRecord> csv_records(std::string_view text, char separator = ',');

}  // namespace standpoint
