#pragma once

#include "io/commands/command_line.h"
#include "io/commands/console.h"
#include "io/scene/fault.h"

namespace standpoint {

// The commands of contract section 5, one file each. Each reads its scene, works, and prints.

[[nodiscard]] Exit check_command(const Request& request, const Console& console);
[[nodiscard]] Exit plan_command(const Request& request, const Console& console);
[[nodiscard]] Exit nests_command(const Request& request, const Console& console);
[[nodiscard]] Exit rehearse_command(const Request& request, const Console& console);
[[nodiscard]] Exit sight_command(const Request& request, const Console& console);
[[nodiscard]] Exit why_command(const Request& request, const Console& console);

/// Prints what is wrong with the input: to err for people, as JSON to out where it is asked.
Exit tell_faults(const Faults& faults, bool as_json, const Console& console);

/// Prints why a resource failed, as one sentence.
Exit tell_failure(const std::string& sentence, const Console& console);

}  // namespace standpoint
