#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace standpoint {

/// A number in a JSON text that no finite double holds.
struct NonFiniteNumber {
  std::size_t ordinal = 0;  ///< which number of the text it is, counted from 0
  std::string token;        ///< as it stands there, cut to 40 bytes
};

struct MaskedText {
  std::string text;
  std::vector<NonFiniteNumber> numbers;  ///< ascending by ordinal
};

/// Finds the numbers outside strings that overflow a double (1e999) or are NaN or an infinity by
/// name, and puts "0" and blanks of the same length in their place, so that a parser which stops at
/// such a number can go on and all of them are told at once. Text that is not JSON comes back no
/// more correct than it was: a token is only replaced where a number may stand by itself. O(n).
[[nodiscard]] MaskedText mask_non_finite(const std::string& text);

}  // namespace standpoint
