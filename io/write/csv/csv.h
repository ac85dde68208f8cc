#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

/// One field as RFC 4180 has it: quoted where it holds a comma, a quote, CR or LF, or begins or
/// ends with a space; quotes doubled; made safe (`for_csv`).
[[nodiscard]] std::string csv_field(std::string_view text);

/// One record, fields joined by commas, ended by CRLF.
[[nodiscard]] std::string csv_record(const std::vector<std::string>& fields);

}  // namespace standpoint
