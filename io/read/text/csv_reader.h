#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

/// One record of a CSV text.
struct CsvRecord {
  std::size_t line = 1;             ///< on which it begins, from 1
  std::vector<std::string> fields;  ///< without their quotes
  /// What is wrong with its quoting, in plain words; empty where nothing is. `fields` are then as
  /// far as understood.
  std::string defect;
};

/// The records of a CSV text (RFC 4180): fields apart by commas, quoted where they hold a comma, a
/// quote (doubled) or a line's end. CRLF, LF or CR end a record; records without any character are
/// left out; a UTF-8 byte order mark is skipped. A quote where none may be is told in `defect`; a
/// quote that is never closed ends with the text. O(n).
[[nodiscard]] std::vector<CsvRecord> csv_records(std::string_view text);

}  // namespace standpoint
