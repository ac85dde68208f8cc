#pragma once

#include <optional>
#include <string_view>

namespace standpoint {

/// The double nearest to a decimal number as people and other programs write it: an optional sign,
/// digits with at most one point among or beside them, an optional exponent ("-12", "+0.5", ".5",
/// "3.", "007", "1e-3"). The whole text, with no blanks; the point is a point whatever the locale.
/// Nothing for any other text, and for what is too large for a double. O(length).
[[nodiscard]] std::optional<double> decimal_number(std::string_view text);

}  // namespace standpoint
