#pragma once

#include <span>
#include <string>
#include <string_view>

#include "io/read/text/fault.h"
#include "io/use/request.h"

namespace CLI {
class App;
}

namespace standpoint {

// The commands, and the options of each: what they are called, what their help says, and how what
// was typed becomes a request. command_line.h reads the arguments by them.

/// Options as typed. They become numbers in `read_options`, where each fault can name what is
/// allowed.
struct Typed {
  std::string scene, folder, threads, time_limit, at, station, feature, nest, plan, trials, seed,
      picture, measured;
  bool json = false, quiet = false, details = false;
};

/// A command: its name, its help, its own options. Options that every command has (the scene,
/// --json, --quiet, --threads) are not among them.
struct CommandEntry {
  Command command;
  const char* name;
  const char* summary;
  const char* example;
  void (*add_options)(CLI::App&, Typed&);  ///< null where it has none
  /// Reads its options into the request and adds every fault; null where it has none.
  void (*read_options)(const Typed&, const CLI::App&, Request&, Faults&);
};

/// All commands, in the order in which help lists them.
[[nodiscard]] std::span<const CommandEntry> command_entries();

/// The options of every command.
void add_common_options(CLI::App& app, Typed& typed);
/// Reads them; `example` is the command's, for the fault that says that the scene is missing.
void read_common_options(const Typed& typed, const CLI::App& app, std::string_view example,
                         Request& request, Faults& faults);

/// Nothing was typed where something must be.
[[nodiscard]] Fault lacking(std::string option, std::string expected);

}  // namespace standpoint
