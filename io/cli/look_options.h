#pragma once

#include "io/cli/command_options.h"

namespace standpoint {

/// The options of `sight`: where to look from, and how the instrument stands there.
void add_sight_options(CLI::App& app, Typed& typed);
/// The options of `why`: those of `sight`, what is asked about, in which plan, and the picture.
void add_why_options(CLI::App& app, Typed& typed);

/// Reads them, and adds a fault for each that cannot be read.
void read_sight_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults);
void read_why_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults);

}  // namespace standpoint
