#pragma once

#include "io/cli/command_options.h"

namespace standpoint {

/// The options of `features`: what is wanted of what is found, and how it is told.
void add_features_options(CLI::App& app, Typed& typed);

/// Reads them, and adds a fault for each that cannot be read.
void read_features_options(const Typed& typed, const CLI::App& app, Request& request,
                           Faults& faults);

}  // namespace standpoint
