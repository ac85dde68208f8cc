#include "io/words/text.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace standpoint {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";  // U+FFFD

struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 0;  // 0: not well formed here
};

// RFC 3629, section 4.
CodePoint decode(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) {
    return k < text.size() ? static_cast<std::uint8_t>(text[k]) : std::uint8_t{0};
  };
  const std::uint8_t lead = byte(i);
  if (lead < 0x80) return {lead, 1};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || i + length > text.size()) return {};
  std::uint32_t value = lead & (0xFFu >> (length + 1));
  for (std::size_t k = 1; k < length; ++k) {
    if ((byte(i + k) & 0xC0) != 0x80) return {};
    value = value << 6 | (byte(i + k) & 0x3Fu);
  }
  constexpr std::array<std::uint32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  const bool is_surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (value < least[length] || value > 0x10FFFF || is_surrogate) return {};
  return {value, length};
}

template <class Visit>  // visit(CodePoint, its bytes)
void for_each_code_point(std::string_view text, const Visit& visit) {
  for (std::size_t i = 0; i < text.size();) {
    const CodePoint c = decode(text, i);
    if (c.bytes == 0) {
      visit(CodePoint{0xFFFD, 1}, kReplacement);
      ++i;
    } else {
      visit(c, text.substr(i, c.bytes));
      i += c.bytes;
    }
  }
}

struct Range {
  std::uint32_t first, last;
};

bool is_in(std::uint32_t c, const auto& ranges) {
  return std::any_of(ranges.begin(), ranges.end(),
                     [c](const Range& r) { return c >= r.first && c <= r.last; });
}

/// What no output may carry as it is. Controls are C0, DEL and C1 (Unicode's category Cc); the rest
/// turns the direction of the text around it (Unicode Standard Annex #9, table 4) or breaks a line.
constexpr std::array<Range, 7> kUnsafe{{{0x00, 0x1F},
                                        {0x7F, 0x9F},
                                        {0x061C, 0x061C},
                                        {0x200E, 0x200F},
                                        {0x2028, 0x2029},
                                        {0x202A, 0x202E},
                                        {0x2066, 0x2069}}};

bool is_unsafe(std::uint32_t c) {
  return is_in(c, kUnsafe);
}

/// `c` in lower-case hexadecimal digits, `count` of them, the last ones.
std::string hex(std::uint32_t c, int count) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string digits;
  for (int shift = 4 * (count - 1); shift >= 0; shift -= 4) digits += kDigits[c >> shift & 15];
  return digits;
}

/// How people read an unsafe character, the same in every medium.
std::string escape(std::uint32_t c) {
  switch (c) {
    case '\n':
      return "\\n";
    case '\r':
      return "\\r";
    case '\t':
      return "\\t";
    default:
      return c < 0x100 ? "\\x" + hex(c, 2) : "\\u" + hex(c, 4);
  }
}

// Combining marks, zero-width characters, variation selectors.
constexpr std::array<Range, 8> kWithoutWidth{{{0x0300, 0x036F},
                                              {0x1AB0, 0x1AFF},
                                              {0x1DC0, 0x1DFF},
                                              {0x200B, 0x200F},
                                              {0x202A, 0x202E},
                                              {0x20D0, 0x20FF},
                                              {0xFE00, 0xFE0F},
                                              {0xFE20, 0xFE2F}}};
constexpr std::array<Range, 10> kWide{{{0x1100, 0x115F},
                                       {0x2E80, 0x303E},
                                       {0x3041, 0x33FF},
                                       {0x3400, 0x4DBF},
                                       {0x4E00, 0x9FFF},
                                       {0xAC00, 0xD7A3},
                                       {0xF900, 0xFAFF},
                                       {0xFF00, 0xFF60},
                                       {0x1F300, 0x1FAFF},
                                       {0x20000, 0x3FFFD}}};

}  // namespace

std::string well_formed(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for_each_code_point(text, [&](CodePoint, std::string_view bytes) { result += bytes; });
  return result;
}

std::string for_terminal(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for_each_code_point(text, [&](CodePoint c, std::string_view bytes) {
    is_unsafe(c.value) ? result += escape(c.value) : result += bytes;
  });
  return result;
}

std::string for_csv(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for_each_code_point(text, [&](CodePoint c, std::string_view bytes) {
    const bool ends_line = c.value == '\n' || c.value == '\r';
    is_unsafe(c.value)&& !ends_line ? result += escape(c.value) : result += bytes;
  });
  return result;
}

std::string for_json(std::string_view json) {
  std::string result;
  result.reserve(json.size());
  for_each_code_point(json, [&](CodePoint c, std::string_view bytes) {
    // A writer of JSON escapes C0 by itself; here they are the ends of its lines.
    is_unsafe(c.value)&& c.value >= 0x20 ? result += "\\u" + hex(c.value, 4) : result += bytes;
  });
  return result;
}

std::string for_markup(std::string_view text) {
  std::string result;
  result.reserve(text.size() + text.size() / 8);
  for_each_code_point(text, [&](CodePoint c, std::string_view bytes) {
    switch (c.value) {
      case '&':
        result += "&amp;";
        break;
      case '<':
        result += "&lt;";
        break;
      case '>':
        result += "&gt;";
        break;
      case '"':
        result += "&quot;";
        break;
      case '\'':
        result += "&#39;";
        break;
      default: {
        const bool is_space = c.value == '\n' || c.value == '\t';
        is_unsafe(c.value)&& !is_space ? result += escape(c.value) : result += bytes;
      }
    }
  });
  return result;
}

std::size_t columns_of(std::string_view text) {
  std::size_t columns = 0;
  for_each_code_point(text, [&](CodePoint c, std::string_view) {
    if (is_in(c.value, kWithoutWidth)) return;
    columns += is_in(c.value, kWide) ? 2 : 1;
  });
  return columns;
}

}  // namespace standpoint
