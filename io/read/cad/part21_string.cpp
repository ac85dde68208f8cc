#include "io/read/cad/part21_string.h"

#include <charconv>
#include <cstdint>
#include <optional>

#include "io/words/text.h"

namespace standpoint {
namespace {

constexpr char32_t kUnknown = 0xFFFD;

void append_utf8(char32_t code, std::string& out) {
  const auto byte = [&out](char32_t bits) { out += static_cast<char>(bits); };
  if (code < 0x80) {
    byte(code);
  } else if (code < 0x800) {
    byte(0xC0 | code >> 6);
    byte(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    byte(0xE0 | code >> 12);
    byte(0x80 | (code >> 6 & 0x3F));
    byte(0x80 | (code & 0x3F));
  } else {
    byte(0xF0 | (code >> 18 & 0x07));
    byte(0x80 | (code >> 12 & 0x3F));
    byte(0x80 | (code >> 6 & 0x3F));
    byte(0x80 | (code & 0x3F));
  }
}

std::optional<char32_t> hex(std::string_view digits) {
  std::uint32_t code = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), code, 16);
  const bool is_whole = error == std::errc() && end == digits.data() + digits.size();
  return is_whole && code <= 0x10FFFF ? std::optional<char32_t>(code) : std::nullopt;
}

/// Decodes what stands between \X2\ or \X4\ and \X0\, in groups of `width` digits.
bool append_groups(std::string_view digits, std::size_t width, std::string& out) {
  if (digits.empty() || digits.size() % width != 0) {
    return false;
  }
  std::string decoded;
  char32_t high = 0;  // the first half of a surrogate pair, while the second is waited for
  for (; !digits.empty(); digits.remove_prefix(width)) {
    const std::optional<char32_t> code = hex(digits.substr(0, width));
    if (!code) {
      return false;
    }
    const bool is_second = *code >= 0xDC00 && *code < 0xE000;
    if (high != 0 && !is_second) {
      append_utf8(kUnknown, decoded);
    }
    if (is_second) {
      append_utf8(high != 0 ? 0x10000 + ((high - 0xD800) << 10) + (*code - 0xDC00) : kUnknown,
                  decoded);
    }
    high = *code >= 0xD800 && *code < 0xDC00 ? *code : 0;
    if (high == 0 && !is_second) {
      append_utf8(*code, decoded);
    }
  }
  if (high != 0) {
    append_utf8(kUnknown, decoded);
  }
  out += decoded;
  return true;
}

bool starts(std::string_view text, std::string_view with) {
  return text.substr(0, with.size()) == with;
}

/// Takes one escape from the front of `rest`, which begins with a backslash; how many bytes it
/// took, 0 where it is none.
std::size_t take_escape(std::string_view rest, std::string& out) {
  if (starts(rest, "\\\\")) {
    out += '\\';
    return 2;
  }
  if (starts(rest, "\\S\\") && rest.size() > 3) {
    append_utf8(static_cast<unsigned char>(rest[3]) | 0x80U, out);
    return 4;
  }
  if (rest.size() > 3 && rest[1] == 'P' && rest[3] == '\\') {
    return 4;  // names the page of \S\ from here on
  }
  if (starts(rest, "\\X\\") && rest.size() > 4) {
    const std::optional<char32_t> code = hex(rest.substr(3, 2));
    if (code) {
      append_utf8(*code, out);
    }
    return code ? 5 : 0;
  }
  const std::size_t width = starts(rest, "\\X2\\") ? 4 : starts(rest, "\\X4\\") ? 8 : 0;
  const std::size_t end = rest.find("\\X0\\");
  if (width == 0 || end == std::string_view::npos || end < 4) {
    return 0;
  }
  return append_groups(rest.substr(4, end - 4), width, out) ? end + 4 : 0;
}

}  // namespace

std::string part21_string(std::string_view between_quotes) {
  std::string plain;
  for (const char c : between_quotes) {
    if (c != '\n' && c != '\r') {
      plain += c;
    }
  }
  std::string out;
  for (std::string_view rest = plain; !rest.empty();) {
    std::size_t taken = rest.front() == '\\' ? take_escape(rest, out) : 0;
    if (taken == 0) {
      out += rest.front();
      taken = starts(rest, "''") ? 2 : 1;
    }
    rest.remove_prefix(taken);
  }
  return well_formed(out);
}

}  // namespace standpoint
