#pragma once

#include <string_view>

namespace standpoint {

/// The page's app as one script, to stand in a <script> as it is; empty where the program was built
/// without it (STANDPOINT_PAGE=OFF).
[[nodiscard]] std::string_view page_bundle();
/// SHA-256 of the script, base64, as a Content-Security-Policy names it.
[[nodiscard]] std::string_view page_bundle_sha256();

}  // namespace standpoint
