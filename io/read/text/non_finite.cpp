#include "io/read/text/non_finite.h"

#include <cctype>
#include <cmath>
#include <cstdlib>
#include <string_view>

namespace standpoint {
namespace {

constexpr std::size_t kLongestToken = 40;
// The greatest double has 309 digits: a shorter number without an exponent cannot overflow.
constexpr std::size_t kDigitsOfGreatest = 309;

bool is_number_char(char c) {
  return (c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.' || c == 'e' || c == 'E';
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// The end of the string that begins at `start` (a quote): one past its closing quote.
std::size_t end_of_string(std::string_view text, std::size_t start) {
  std::size_t i = start + 1;
  while (i < text.size() && text[i] != '"') i += text[i] == '\\' ? 2 : 1;
  return std::min(i + 1, text.size());
}

template <class Belongs>
std::size_t end_of_run(std::string_view text, std::size_t start, Belongs belongs) {
  while (start < text.size() && belongs(text[start])) ++start;
  return start;
}

bool overflows(std::string_view token) {
  if (token.size() < kDigitsOfGreatest && token.find_first_of("eE") == std::string_view::npos)
    return false;
  const std::string number(token);
  char* end = nullptr;
  const double value = std::strtod(number.c_str(), &end);
  return end == number.c_str() + number.size() && std::isinf(value);
}

bool names_non_finite(std::string_view word) {
  std::string lower;
  for (const char c : word.substr(0, 16)) lower += static_cast<char>(std::tolower(c));
  return lower == "nan" || lower == "inf" || lower == "infinity";
}

}  // namespace

MaskedText mask_non_finite(const std::string& text) {
  MaskedText masked{text, {}};
  std::size_t ordinal = 0;
  const auto mask = [&](std::size_t begin, std::size_t end) {
    masked.numbers.push_back({ordinal++, text.substr(begin, std::min(end - begin, kLongestToken))});
    masked.text.replace(begin, end - begin, "0" + std::string(end - begin - 1, ' '));
  };
  for (std::size_t i = 0; i < text.size();) {
    const char c = text[i];
    if (c == '"') {
      i = end_of_string(text, i);
    } else if (is_letter(c) || (c == '-' && i + 1 < text.size() && is_letter(text[i + 1]))) {
      const std::size_t word = c == '-' ? i + 1 : i;
      const std::size_t end = end_of_run(text, word, is_letter);
      if (names_non_finite(std::string_view(text).substr(word, end - word))) mask(i, end);
      i = end;
    } else if (is_number_char(c)) {
      const std::size_t end = end_of_run(text, i, is_number_char);
      if (overflows(std::string_view(text).substr(i, end - i))) {
        mask(i, end);
      } else {
        ++ordinal;
      }
      i = end;
    } else {
      ++i;
    }
  }
  return masked;
}

}  // namespace standpoint
