#include "io/read/text/value_rules.h"

#include <fmt/format.h>

namespace standpoint {
namespace {

/// A number for people: 1e9, not 1e+09.
std::string plain(double number) {
  std::string text = fmt::format("{:g}", number);
  const auto e = text.find('e');
  if (e == std::string::npos) return text;
  const bool is_negative = text[e + 1] == '-';
  const auto digits = text.find_first_not_of("+-0", e + 1);
  return text.substr(0, e + 1) + (is_negative ? "-" : "") + text.substr(digits);
}

std::size_t character_count(std::string_view text) {
  std::size_t count = 0;
  for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
  return count;
}

bool has_control_character(std::string_view text) {
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20U || byte == 0x7FU) return true;
  }
  return false;
}

}  // namespace

std::string describe(const NumberRule& rule) {
  if (rule.low == rule.high) return fmt::format("{}, {}", rule.what, plain(rule.low));
  return fmt::format("{}, {} to {}", rule.what, plain(rule.low), plain(rule.high));
}

bool is_plain_text(std::string_view text, std::size_t most) {
  return !text.empty() && character_count(text) <= most && !has_control_character(text);
}

std::string describe_text(std::size_t most) {
  return fmt::format("a text of 1 to {} characters without control characters", most);
}

}  // namespace standpoint
