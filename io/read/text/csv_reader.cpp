#include "io/read/text/csv_reader.h"

#include <utility>

namespace standpoint {
namespace {

/// Of a character in UTF-8 the first byte counts.
bool begins_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

}  // namespace

CsvReader::CsvReader(std::string_view text, char separator) : text_(text), separator_(separator) {
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (text_.substr(0, kMark.size()) == kMark) at_ = kMark.size();
}

std::optional<CsvRecord> CsvReader::next() {
  while (at_ < text_.size()) {
    const std::size_t start = at_;
    CsvRecord record = read_record();
    const bool is_empty = text_.substr(start, 1).find_first_of("\r\n") == 0;
    if (!is_empty) return record;
  }
  return std::nullopt;
}

/// On to the next byte. Not for the end of a line.
void CsvReader::step() {
  ++at_;
  if (at_ >= text_.size() || begins_character(text_[at_])) ++place_.column;
}

CsvRecord CsvReader::read_record() {
  CsvRecord record;
  record.line = place_.line;
  for (;;) {
    read_field(record);
    if (!is_at(separator_)) break;
    step();
  }
  record.end = place_;
  take_line_end();
  return record;
}

void CsvReader::read_field(CsvRecord& record) {
  const CsvPlace place = place_;
  std::string field = is_at('"') ? read_quoted(record) : read_plain(record);
  if (record.fields.size() == kMostFields) {
    record.defect = "more than 10000 fields";
    return;
  }
  record.places.push_back(place);
  record.fields.push_back(std::move(field));
}

std::string CsvReader::read_plain(CsvRecord& record) {
  const std::size_t start = at_;
  while (!ends_record() && !is_at(separator_)) {
    if (is_at('"')) record.defect = "a quote inside a field that does not begin with one";
    step();
  }
  return std::string(text_.substr(start, at_ - start));
}

std::string CsvReader::read_quoted(CsvRecord& record) {
  std::string field;
  for (step(); at_ < text_.size();) {
    if (is_at('"')) {
      step();
      if (!is_at('"')) {
        if (!ends_record() && !is_at(separator_)) {
          field += read_plain(record);
          record.defect = "text after a closing quote";
        }
        return field;
      }
    }
    field += text_[at_];
    if (!is_line_end()) {
      step();
      continue;
    }
    ++at_;
    place_ = {place_.line + 1, 1};
  }
  record.defect = "a quote that is never closed";
  return field;
}

/// Of CRLF the LF counts.
bool CsvReader::is_line_end() const {
  if (is_at('\n')) return true;
  return is_at('\r') && (at_ + 1 >= text_.size() || text_[at_ + 1] != '\n');
}

void CsvReader::take_line_end() {
  if (at_ >= text_.size()) return;
  if (is_at('\r') && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++at_;
  ++at_;
  place_ = {place_.line + 1, 1};
}

std::vector<CsvRecord> csv_records(std::string_view text, char separator) {
  CsvReader reader(text, separator);
  std::vector<CsvRecord> all;
  while (auto record = reader.next()) all.push_back(std::move(*record));
  return all;
}

}  // namespace standpoint
