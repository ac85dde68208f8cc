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

// One function for each medium (docs/messages.md). None of them lets an unsafe character through: a
// control character (C0, DEL, C1), a mark that turns the direction of the text (U+061C, U+200E,
// U+200F, U+202A to U+202E, U+2066 to U+2069), or U+2028 and U+2029, which break a line. People
// read it as \n, \r, \t, \x1b or \u202e.

/// `text` on one line of a terminal: well formed, unsafe characters written out, so that a name can
/// neither break a table nor steer the terminal. O(n).
[[nodiscard]] std::string for_terminal(std::string_view text);

/// `text` as the content of a CSV field, before its quotes: well formed, unsafe characters written
/// out, but for CR and LF, which a quoted field may hold (RFC 4180, section 2). O(n).
[[nodiscard]] std::string for_csv(std::string_view text);

/// JSON text as it may go into a file or onto a terminal: the same JSON, with every unsafe
/// character from U+007F on as \u009b. Precondition: `json` is JSON, so its C0 characters are
/// white space between its values. Bytes that are not UTF-8 become U+FFFD. O(n).
[[nodiscard]] std::string for_json(std::string_view json);

/// `text` inside HTML or SVG, in an element or a quoted attribute: well formed, & < > " ' escaped,
/// unsafe characters other than tab and newline written out. O(n).
[[nodiscard]] std::string for_markup(std::string_view text);

/// How many columns well-formed text takes on a terminal: its code points, without combining marks,
/// joiners and variation selectors; wide East Asian characters and emoji count as two (the main
/// blocks of Unicode's East Asian Width W and F). Good for alignment, not for typesetting. O(n).
[[nodiscard]] std::size_t columns_of(std::string_view text);

}  // namespace standpoint
