#include "io/read/text/csv_reader.h"

namespace standpoint {
namespace {

class CsvReader {
 public:
  explicit CsvReader(std::string_view text) : text_(text) {
    constexpr std::string_view kMark = "\xEF\xBB\xBF";
    if (text_.substr(0, kMark.size()) == kMark) at_ = kMark.size();
  }

  [[nodiscard]] std::vector<CsvRecord> records() {
    std::vector<CsvRecord> all;
    while (at_ < text_.size()) {
      const std::size_t start = at_;
      CsvRecord record = read_record();
      const bool is_empty = text_.substr(start, 1).find_first_of("\r\n") == 0;
      if (!is_empty) all.push_back(std::move(record));
    }
    return all;
  }

 private:
  [[nodiscard]] bool is_at(char c) const { return at_ < text_.size() && text_[at_] == c; }
  [[nodiscard]] bool ends_record() const {
    return at_ >= text_.size() || text_[at_] == '\n' || text_[at_] == '\r';
  }

  CsvRecord read_record() {
    CsvRecord record;
    record.line = line_;
    for (;;) {
      record.fields.push_back(is_at('"') ? read_quoted(record) : read_plain(record));
      if (!is_at(',')) break;
      ++at_;
    }
    take_line_end();
    return record;
  }

  std::string read_plain(CsvRecord& record) {
    const std::size_t start = at_;
    while (!ends_record() && !is_at(',')) {
      if (is_at('"')) record.defect = "a quote inside a field that does not begin with one";
      ++at_;
    }
    return std::string(text_.substr(start, at_ - start));
  }

  std::string read_quoted(CsvRecord& record) {
    std::string field;
    for (++at_; at_ < text_.size();) {
      if (is_at('"')) {
        ++at_;
        if (!is_at('"')) {
          if (!ends_record() && !is_at(',')) {
            record.defect = "text after a closing quote";
            field += read_plain(record);
            record.defect = "text after a closing quote";
          }
          return field;
        }
      } else if (is_line_end()) {
        ++line_;
      }
      field += text_[at_++];
    }
    record.defect = "a quote that is never closed";
    return field;
  }

  /// Of CRLF the LF counts.
  [[nodiscard]] bool is_line_end() const {
    if (is_at('\n')) return true;
    return is_at('\r') && (at_ + 1 >= text_.size() || text_[at_ + 1] != '\n');
  }

  void take_line_end() {
    if (at_ >= text_.size()) return;
    if (is_at('\r') && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++at_;
    ++at_;
    ++line_;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t line_ = 1;
};

}  // namespace

std::vector<CsvRecord> csv_records(std::string_view text) {
  return CsvReader(text).records();
}

}  // namespace standpoint
