#pragma once

#include <string>
#include <string_view>

#include "planner/part/annotation.h"

namespace standpoint {

/// The characteristic's name as ISO 1101 has it: "profile of a surface". O(1).
[[nodiscard]] std::string_view tolerance_word(ToleranceKind kind);

/// A tolerance on one line for people: kind, width in mm, modifiers, datums and the number of its
/// entity: "position 0.4 (M) | A | B | C (#1234)". Letters are as the file has them. O(n).
[[nodiscard]] std::string tolerance_words(const GeometricTolerance& tolerance);

}  // namespace standpoint
