#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace standpoint {

// Names come from the user's files and may hold anything. These make them safe where they land.

/// `text` as well-formed UTF-8: every byte that is not part of a well-formed sequence (RFC 3629:
/// overlong forms, surrogates and values above U+10FFFF are not) becomes U+FFFD. Well-formed text
/// comes back unchanged. O(n).
[[nodiscard]] std::string well_formed(std::string_view text);

/// `text` on one line of a terminal: well formed, control characters (C0, DEL, C1) written as
/// \n, \t, \r or \x1b, so that a name can neither break a table nor steer the terminal. O(n).
[[nodiscard]] std::string for_terminal(std::string_view text);

/// `text` inside HTML or SVG, in an element or a quoted attribute: well formed, & < > " ' escaped,
/// control characters other than tab and newline replaced by U+FFFD. O(n).
[[nodiscard]] std::string for_markup(std::string_view text);

/// How many columns well-formed text takes on a terminal: its code points, without combining marks,
/// joiners and variation selectors; wide East Asian characters and emoji count as two (the main
/// blocks of Unicode's East Asian Width W and F). Good for alignment, not for typesetting. O(n).
[[nodiscard]] std::size_t columns_of(std::string_view text);

}  // namespace standpoint
