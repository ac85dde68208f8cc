#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace standpoint {

// What single values may be, in whatever file they stand, and how a fault says so.

/// What a number may be. Bounds are allowed themselves.
struct NumberRule {
  std::string_view what;  ///< with its unit: "a length in scene units"
  double low = 0;
  double high = 0;
};

/// "a length in scene units, 0 to 1e9", or one number where the bounds are equal: for a fault.
[[nodiscard]] std::string describe(const NumberRule& rule);

/// Of a name, in characters (Unicode code points).
inline constexpr std::size_t kLongestName = 200;

/// Whether `text` has 1 to `most` characters, none of them a control character. O(n).
[[nodiscard]] bool is_plain_text(std::string_view text, std::size_t most);

/// What `is_plain_text` asks for: for a fault.
[[nodiscard]] std::string describe_text(std::size_t most);

}  // namespace standpoint
