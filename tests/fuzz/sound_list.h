#pragma once

#include <string>
#include <string_view>

namespace standpoint::fuzz {

/// Reads a text as a list of features and as one of nests, and looks at what comes out: a whole,
/// sound list, or faults that each say where and what. Empty, or what is wrong in a few words.
[[nodiscard]] std::string wrong_with_list(std::string_view text);

}  // namespace standpoint::fuzz
