#pragma once

#include <span>
#include <string>
#include <string_view>

namespace standpoint {

/// The entry of `names` that `name` most likely means, for a hint: equal apart from case, hyphens,
/// underscores and blanks, or at most two edits away (insert, delete, replace, swap neighbours; one
/// edit for names of three to five characters, none for shorter ones). Of several
/// the one with the fewest edits, then with the longest same beginning, then with the nearest
/// character after it (pad-8 for pad-9), then the first; empty where none is near. O(total length
/// of `names`).
[[nodiscard]] std::string_view nearest_name(std::string_view name,
                                            std::span<const std::string_view> names);

}  // namespace standpoint
