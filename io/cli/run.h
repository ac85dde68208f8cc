#pragma once

#include <string>
#include <vector>

#include "io/cli/console.h"

namespace standpoint {

/// The whole program but for the process around it: reads `arguments` (without the program's name),
/// runs the command, prints to `console`. Returns the exit status; never throws for bad input, a
/// full disk or exhausted memory.
[[nodiscard]] Exit run(const std::vector<std::string>& arguments, const Console& console);

}  // namespace standpoint
