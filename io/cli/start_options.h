#pragma once

#include "io/cli/command_options.h"

namespace standpoint {

/// The options of `start`: where to write, and what is not to be guessed.
void add_start_options(CLI::App& app, Typed& typed);

/// Reads them, and adds a fault for each that cannot be read.
void read_start_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults);

}  // namespace standpoint
