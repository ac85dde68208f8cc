#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace standpoint::house {

/// Names that two source files of one folder of geometry/, planner/ and io/ both define in their
/// unnamed namespaces, as sentences that name the files: the files of a folder are compiled as one
/// where STANDPOINT_BY_ROOMS asks for it, and then such names meet. Functions may differ by their
/// parameters; an alias may say the same twice. Reads code as clang-format lays it out: what begins
/// in the first column is a definition.
std::vector<std::string> names_defined_twice(const std::filesystem::path& root);

}  // namespace standpoint::house
