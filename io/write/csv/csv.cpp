#include "io/write/csv/csv.h"

#include "io/words/text.h"

namespace standpoint {

std::string csv_field(std::string_view text) {
  const std::string clean = for_csv(text);
  const bool is_plain = clean.find_first_of(",\"\r\n") == std::string::npos &&
                        (clean.empty() || (clean.front() != ' ' && clean.back() != ' '));
  if (is_plain) return clean;
  std::string quoted = "\"";
  for (const char c : clean) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

std::string csv_record(const std::vector<std::string>& fields) {
  std::string record;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) record += ',';
    record += csv_field(fields[i]);
  }
  return record + "\r\n";
}

}  // namespace standpoint
