#pragma once

#include <string>
#include <vector>

namespace standpoint::house {

/// What object files define and take from one another, told of their sources.
struct Calls {
  std::vector<std::string> upward;  ///< sentences: a room takes a name from a room further on
  std::size_t between_rooms = 0;    ///< names that one room takes from another, file by file
};

/// Reads `nm -A -P -g` of object files: a line "OBJECT: NAME TYPE ..." for each name. An object
/// stands for the source that CMake made it of (`io/CMakeFiles/x.dir/use/look.cpp.o` is
/// `io/use/look.cpp`); rooms and their order are those of house_rules.h. Inline functions have no
/// room of their own and are left out.
[[nodiscard]] Calls calls_between_rooms(const std::string& listing);

}  // namespace standpoint::house
