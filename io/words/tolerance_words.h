#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "planner/part/annotation.h"

namespace standpoint {

/// The characteristic's name as ISO 1101 has it: "profile of a surface". O(1).
[[nodiscard]] std::string_view tolerance_word(ToleranceKind kind);

/// An entity for people: "#1234", and of a file that the part's own refers to "#1234 of lid.step".
/// The name is as the file has it. O(n).
[[nodiscard]] std::string entity_words(std::uint64_t id, const std::string& part_file);

/// A tolerance on one line for people: kind, width in mm, modifiers, datums and the number of its
/// entity: "position 0.4 (M) | A | B | C (#1234)". Letters are as the file has them. O(n).
[[nodiscard]] std::string tolerance_words(const GeometricTolerance& tolerance);

}  // namespace standpoint
