#include "io/read/text/decimal_number.h"

#include <algorithm>
#include <string>

#include <nlohmann/json.hpp>

namespace standpoint {
namespace {

/// Takes the digits that `text` begins with.
std::string_view take_digits(std::string_view& text) {
  const std::size_t count = std::min(text.find_first_not_of("0123456789"), text.size());
  const std::string_view digits = text.substr(0, count);
  text.remove_prefix(count);
  return digits;
}

}  // namespace

// std::from_chars is what one would take, but the library that the page is built with has none for
// doubles; strtod asks the locale. The JSON library's reader does not, once the text is a number of
// JSON, whose rules are narrower: no plus, no leading zeros, digits on both sides of the point.
std::optional<double> decimal_number(std::string_view text) {
  std::string number;
  if (!text.empty() && (text.front() == '+' || text.front() == '-')) {
    if (text.front() == '-') number = "-";
    text.remove_prefix(1);
  }
  std::string_view whole = take_digits(text);
  std::string_view after;
  if (!text.empty() && text.front() == '.') {
    text.remove_prefix(1);
    after = take_digits(text);
  }
  if (whole.empty() && after.empty()) return std::nullopt;
  whole.remove_prefix(std::min(whole.find_first_not_of('0'), whole.size()));
  number.append(whole.empty() ? "0" : whole).append(".").append(after.empty() ? "0" : after);
  const bool is_exponent = text.empty() || text.front() == 'e' || text.front() == 'E';
  // A reader of JSON would let blanks follow.
  if (!is_exponent || text.find_first_of(" \t\r\n") != text.npos) return std::nullopt;
  number.append(text);  // its rules are the same
  const auto read = nlohmann::json::parse(number, nullptr, false);
  if (!read.is_number()) return std::nullopt;
  return read.get<double>();
}

}  // namespace standpoint
