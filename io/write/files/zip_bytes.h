#pragma once

#include <string>
#include <vector>

#include "io/write/files/write_files.h"

namespace standpoint {

/// A zip file that holds `files` under their names, in their order, deflated, all dated 1 January
/// 1980 (the first date there is in one): the same files give the same bytes, with one version of
/// zlib. Names are UTF-8 paths with '/'. Throws std::bad_alloc. O(n) in bytes; takes their memory
/// once more.
[[nodiscard]] std::string zip_bytes(const std::vector<OutFile>& files);

}  // namespace standpoint
