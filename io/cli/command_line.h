#pragma once

#include <string>
#include <variant>
#include <vector>

#include "io/read/text/fault.h"
#include "io/use/request.h"

namespace standpoint {

/// Text that answers at once: --help, --version.
struct Answer {
  std::string text;
};

/// What is wrong with the command line. `wants_json`: the faults belong on stdout as JSON too.
struct UsageFaults {
  Faults faults;
  bool wants_json = false;
};

/// Reads the arguments, without the program's name. Every fault names the option, the value and
/// what is allowed.
[[nodiscard]] std::variant<Request, Answer, UsageFaults> read_command_line(
    const std::vector<std::string>& arguments);

}  // namespace standpoint
