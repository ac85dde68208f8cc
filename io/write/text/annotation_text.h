#pragma once

#include <string>
#include <vector>

#include "io/use/find_features.h"

namespace standpoint {

/// What is to be known of a file's tolerances, a sentence each: how many are read of how many,
/// which are not and why, and which concern no feature that was found. None where the file has
/// none. Text of the file is in them as it stands.
[[nodiscard]] std::vector<std::string> annotation_remarks(const PartAnswer& part);

}  // namespace standpoint
