#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

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
  std::vector<std::string> files;
  std::string scene, folder, threads, time_limit, at, up, station, feature, nest, plan, trials,
      seed, picture, measured, kinds, size, axis, box, holes_up_to, units, feature_list, hall;
  bool json = false, quiet = false, details = false, csv = false, qif = false, replace = false;
};

/// What a command works on: its arguments that follow no option.
struct Input {
  const char* name;   ///< in help and messages, such as "SCENE"
  const char* text;   ///< for its help
  const char* words;  ///< "one scene file", for messages
  /// How many there are; both 1: what is typed goes into `Typed::scene`, else into `Typed::files`.
  int least = 1, most = 1;
};

/// A command: its name, its help, its own options. Options that every command has (its input,
/// --json, --quiet, --threads) are not among them.
struct CommandEntry {
  Command command;
  const char* name;
  const char* summary;
  const char* example;
  void (*add_options)(CLI::App&, Typed&);  ///< null where it has none
  /// Reads its options into the request and adds every fault; null where it has none.
  void (*read_options)(const Typed&, const CLI::App&, Request&, Faults&);
  Input input = {"SCENE", "The scene file (JSON), or a packed scene (.zip)", "one scene file"};
};

/// All commands, in the order in which help lists them.
[[nodiscard]] std::span<const CommandEntry> command_entries();

/// What the numbers mean that the program ends with.
[[nodiscard]] std::string_view exit_status_words();

/// The fault of an option whose text is not what is expected.
[[nodiscard]] Fault wrong(std::string option, const std::string& typed, std::string expected);

/// A finite number as typed, with spaces or a plus before it; nothing where it is none. O(n).
[[nodiscard]] std::optional<double> finite_number(std::string_view text);

/// Gives a fresh parser the whole command line: commands, options, texts of help. What is typed
/// goes into `typed`, which must live as long as `app` parses.
void describe_program(CLI::App& app, Typed& typed);

/// What every command has: its input, and the options of all.
void add_common_options(CLI::App& app, const Input& input, Typed& typed);
/// Reads them.
void read_common_options(const Typed& typed, const CLI::App& app, const CommandEntry& entry,
                         Request& request, Faults& faults);

/// Nothing was typed where something must be.
[[nodiscard]] Fault lacking(std::string option, std::string expected);

/// The same, or of one that was given an empty text.
[[nodiscard]] Fault lacking_or_empty(const CLI::App& app, const std::string& option,
                                     std::string expected);

}  // namespace standpoint
