#pragma once

#include <string>
#include <string_view>

namespace standpoint {

/// Text between the quotes of a string of ISO 10303-21, decoded to well-formed UTF-8.
///
/// Decoded are doubled quotes and backslashes, and the escapes \S\, \X\, \X2\ and \X4\ (clause
/// 6.4.3 of the standard, from memory). Line ends are left out: there they mean nothing. A wrong
/// escape stays as it is. \S\ is taken as of ISO 8859-1, whatever page \P?\ names. O(n). Throws
/// std::bad_alloc alone. Safe from several threads.
[[nodiscard]] std::string part21_string(std::string_view between_quotes);

}  // namespace standpoint
