#pragma once

#include <string>

namespace standpoint {

/// `bytes` deflated (RFC 1951) and written as text, five characters for each four bytes, that can
/// stand in a <script> as it is: the 85 characters from '(' on without '<' and '\\'. First the
/// length of what was deflated, decimal, and a space. Throws std::bad_alloc. O(n).
[[nodiscard]] std::string packed_text(const std::string& bytes);

}  // namespace standpoint
