#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <vector>

namespace standpoint::house {

/// Every way in which the source tree below `root` breaks the rules of the house, as sentences that
/// name the file. Empty where it keeps them all. `root` holds geometry/, planner/ and io/.
std::vector<std::string> broken_rules(const std::filesystem::path& root);

/// The number of a file's room, from the ground up (`file` as "io/use/look.cpp"); how many rooms
/// there are where it stands in none. A file may include, and call, what has no greater number.
std::size_t room_of(const std::string& file);

/// Names at the top of the tree that do not belong there, or are missing.
std::vector<std::string> misplaced_at_top(const std::filesystem::path& root);

}  // namespace standpoint::house
