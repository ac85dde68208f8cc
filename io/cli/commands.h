#pragma once

#include "io/cli/command_line.h"
#include "io/cli/console.h"
#include "io/cli/progress.h"
#include "io/read/text/fault.h"
#include "io/use/answered.h"
#include "io/use/attendant.h"

namespace standpoint {

// The commands of contract section 5, one file each. Each reads its scene, works, and prints.

[[nodiscard]] Exit check_command(const Request& request, const Console& console);
[[nodiscard]] Exit plan_command(const Request& request, const Console& console);
[[nodiscard]] Exit nests_command(const Request& request, const Console& console);
[[nodiscard]] Exit rehearse_command(const Request& request, const Console& console);
[[nodiscard]] Exit sight_command(const Request& request, const Console& console);
[[nodiscard]] Exit why_command(const Request& request, const Console& console);
[[nodiscard]] Exit compare_command(const Request& request, const Console& console);
[[nodiscard]] Exit features_command(const Request& request, const Console& console);
[[nodiscard]] Exit start_command(const Request& request, const Console& console);
[[nodiscard]] Exit pack_command(const Request& request, const Console& console);

/// Prints what is wrong with the input: to err for people, as JSON to out where it is asked.
Exit tell_faults(const Faults& faults, bool as_json, const Console& console);

/// Prints why a resource failed, as one sentence.
Exit tell_failure(const std::string& sentence, const Console& console);

/// Prints why a use case has no answer: faults, or the resource that failed.
Exit tell_no_answer(const NoAnswer& why, bool as_json, const Console& console);
/// The same for a command that writes files: also says that it wrote none.
Exit tell_nothing_written(const NoAnswer& why, bool as_json, const Console& console);

/// What a use case is attended by: `progress`, and the console's interruption. Both must outlive
/// it.
[[nodiscard]] Attendant attendant_at(const Console& console, ProgressLine& progress,
                                     double time_limit_s = Watch{}.time_limit_s);

}  // namespace standpoint
