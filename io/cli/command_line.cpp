#include "io/cli/command_line.h"

#include <algorithm>
#include <string_view>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "io/cli/command_options.h"
#include "io/cli/command_papers.h"
#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"

namespace standpoint {
namespace {

std::string command_names() {
  std::vector<std::string_view> names;
  for (const CommandEntry& entry : command_entries()) names.emplace_back(entry.name);
  return fmt::format("{}", fmt::join(names, ", "));
}

std::variant<Request, Answer, UsageFaults> checked(const CommandEntry& entry, const CLI::App& app,
                                                   const Typed& typed) {
  Request request;
  Faults faults;
  request.command = entry.command;
  read_common_options(typed, app, entry, request, faults);
  if (entry.read_options != nullptr) entry.read_options(typed, app, request, faults);
  if (!faults.empty()) return UsageFaults{std::move(faults), request.json};
  return request;
}

bool has(const std::vector<std::string>& arguments, std::string_view what) {
  return std::find(arguments.begin(), arguments.end(), what) != arguments.end();
}

std::string option_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options([](const CLI::Option*) { return true; })) {
    if (!option->get_positional()) names.push_back(option->get_name(false, true));
  }
  return fmt::format("{}", fmt::join(names, ", "));
}

/// The option of `app` that an unknown argument was most likely meant to be.
std::string nearest_option(const CLI::App& app, const std::string& argument) {
  if (argument.substr(0, 1) != "-") return "";
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options([](const CLI::Option*) { return true; }))
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  const std::vector<std::string_view> views(names.begin(), names.end());
  return std::string(nearest_name(argument.substr(0, argument.find('=')), views));
}

/// Where the parser's own sentence begins with an option of `app`: that option was given without
/// its value, or more than once.
std::optional<Fault> fault_of_option(const CLI::ParseError& error, const CLI::App& app) {
  const std::string sentence = error.what();
  const std::string name = sentence.substr(0, sentence.find(':'));
  const CLI::Option* const option = app.get_option_no_throw(name);
  if (option == nullptr) return std::nullopt;
  if (option->count() > 1)
    return Fault{name, fmt::format("{} values", option->count()), "one value", FaultKind::other,
                 ""};
  return lacking(name, fmt::format("a value after it: {} {}", name, option->get_type_name()));
}

/// What the command of this name works on, in words.
std::string_view input_of(const std::string& command) {
  for (const CommandEntry& entry : command_entries())
    if (command == entry.name) return entry.input.words;
  return "";
}

/// What keeps the arguments from being read.
Fault fault_of(const CLI::ParseError& error, const CLI::App& app) {
  const auto chosen = app.get_subcommands();
  const auto unknown = app.remaining(true);
  if (chosen.empty()) {
    return {"command line", unknown.empty() ? "" : short_text(unknown.front()),
            "a command, one of " + command_names() + ", before its options", FaultKind::other, ""};
  }
  const CLI::App& command = *chosen[0];
  const std::string expected =
      fmt::format("{} and these options: {}", input_of(command.get_name()), option_names(command));
  if (!unknown.empty()) {
    return {command.get_name(), short_text(unknown.front()), expected, FaultKind::other,
            nearest_option(command, unknown.front())};
  }
  if (auto fault = fault_of_option(error, command)) return *fault;
  return {command.get_name(), fmt::format("what cannot be read ({})", error.what()), expected,
          FaultKind::other, ""};
}

/// No command, or one that there is not: `typed` is empty where nothing was typed.
Fault fault_of_command(const std::string& typed) {
  const std::string expected = "one of " + command_names();
  if (typed.empty()) return lacking("COMMAND", expected + "; see standpoint --help");
  std::vector<std::string_view> names;
  for (const CommandEntry& entry : command_entries()) names.emplace_back(entry.name);
  return {"COMMAND", short_text(typed), expected, FaultKind::unknown_choice,
          std::string(nearest_name(typed, names))};
}

}  // namespace

std::variant<Request, Answer, UsageFaults> read_command_line(
    const std::vector<std::string>& arguments) {
  if (!arguments.empty() && asks_for_paper(arguments[0])) return paper(arguments);
  CLI::App app;
  Typed typed;
  describe_program(app, typed);

  const bool wants_json = has(arguments, "--json");
  if (arguments.empty()) return UsageFaults{{fault_of_command("")}};
  const auto entries = command_entries();
  const bool is_command =
      std::any_of(entries.begin(), entries.end(),
                  [&](const CommandEntry& entry) { return arguments[0] == entry.name; });
  if (!is_command && arguments[0].substr(0, 1) != "-") {
    return UsageFaults{{fault_of_command(arguments[0])}, wants_json};
  }
  try {
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::CallForHelp&) {
    const auto chosen = app.get_subcommands();
    return Answer{chosen.empty() ? app.help() : chosen[0]->help()};
  } catch (const CLI::CallForVersion& version) {
    return Answer{std::string(version.what()) + "\n"};
  } catch (const CLI::ParseError& error) {
    return UsageFaults{{fault_of(error, app)}, wants_json};
  }
  for (const CommandEntry& entry : command_entries()) {
    const CLI::App* command = app.get_subcommand(entry.name);
    if (command->parsed()) return checked(entry, *command, typed);
  }
  return UsageFaults{{fault_of_command("")}, wants_json};
}

}  // namespace standpoint
