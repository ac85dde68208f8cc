#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "geometry/vec.h"
#include "io/read/text/json_cursor.h"
#include "io/read/text/value_rules.h"

namespace standpoint {

// Readers of single values. Each gives the value where it is there and allowed; otherwise nothing,
// and has told why (also where it is missing though required). No unit is converted here.

[[nodiscard]] std::optional<double> read_number(const Cursor& at, const NumberRule& rule);

/// A number without a fraction (3 or 3.0). Precondition: the rule's bounds fit an int.
[[nodiscard]] std::optional<int> read_whole(const Cursor& at, const NumberRule& rule);

[[nodiscard]] std::optional<bool> read_flag(const Cursor& at);

/// A text of 1 to `most` characters (Unicode code points), none of them a control character.
[[nodiscard]] std::optional<std::string> read_text(const Cursor& at, std::size_t most);

/// A name: as `read_text`, of at most `kLongestName` characters.
[[nodiscard]] std::optional<std::string> read_name(const Cursor& at);

/// One of several words: its place among `choices`.
[[nodiscard]] std::optional<std::size_t> read_choice(const Cursor& at,
                                                     std::span<const std::string_view> choices);

/// [x, y, z] or [x, y], each a number allowed by `rule`.
[[nodiscard]] std::optional<Vec3> read_vec3(const Cursor& at, const NumberRule& rule);
[[nodiscard]] std::optional<Vec2> read_vec2(const Cursor& at, const NumberRule& rule);

/// [x, y, z] of any length but zero, made a unit vector.
[[nodiscard]] std::optional<Vec3> read_direction(const Cursor& at);

/// [low, high], each allowed by `rule`, low < high.
[[nodiscard]] std::optional<Interval> read_interval(const Cursor& at, const NumberRule& rule);

}  // namespace standpoint
