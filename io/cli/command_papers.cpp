#include "io/cli/command_papers.h"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "io/cli/command_options.h"
#include "io/read/text/json_value.h"

namespace standpoint {
namespace {

constexpr std::string_view kMan = "--print-man", kCompletion = "--print-completion";

/// When the words of this version were settled: a manual page has a date, and the same sources give
/// the same page on any day.
constexpr std::string_view kVersionDate = "2026-11-27";

/// An option, or the argument without a name, as the table has it.
struct ToldOption {
  std::vector<std::string> names;  ///< with their dashes, short before long; empty: an argument
  std::string value;               ///< what it takes, such as "FILE"; empty for a switch
  bool is_list = false;            ///< takes several
  std::string text;
};

struct ToldCommand {
  std::string name;
  std::string summary;
  std::vector<ToldOption> options;
};

struct ToldProgram {
  std::string summary;
  std::vector<ToldOption> options;
  std::vector<ToldCommand> commands;
};

std::vector<ToldOption> told_options(const CLI::App& app) {
  std::vector<ToldOption> told;
  for (const CLI::Option* option : app.get_options([](const CLI::Option*) { return true; })) {
    ToldOption one;
    for (const std::string& name : option->get_snames()) one.names.push_back("-" + name);
    for (const std::string& name : option->get_lnames()) one.names.push_back("--" + name);
    // A switch has a type too, but takes no value.
    if (option->get_items_expected_max() > 0) one.value = option->get_type_name();
    one.is_list = option->get_items_expected_max() > 1;
    one.text = option->get_description();
    told.push_back(std::move(one));
  }
  return told;
}

ToldProgram told_program() {
  CLI::App app;
  Typed typed;
  describe_program(app, typed);
  ToldProgram told{app.get_description(), told_options(app), {}};
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    told.commands.push_back(
        {command->get_name(), command->get_description(), told_options(*command)});
  }
  return told;
}

bool takes_file(const ToldOption& option) {
  return option.names.empty() || option.value.rfind("FILE", 0) == 0;
}
bool takes_folder(const ToldOption& option) {
  return option.value == "DIR";
}

std::string replaced(std::string text, std::string_view what, std::string_view by) {
  for (std::size_t at = text.find(what); at != std::string::npos;
       at = text.find(what, at + by.size()))
    text.replace(at, what.size(), by);
  return text;
}

/// A text that the man macros print as it is; a hyphen stays one that can be copied.
std::string for_man(const std::string& text) {
  std::string safe = replaced(replaced(text, "\\", "\\e"), "-", "\\-");
  if (!safe.empty() && (safe[0] == '.' || safe[0] == '\'')) safe.insert(0, "\\&");
  return safe;
}

std::string man_option(const ToldOption& option) {
  std::string names;
  for (const std::string& name : option.names)
    names += fmt::format("{}\\fB{}\\fR", names.empty() ? "" : ", ", for_man(name));
  if (!option.value.empty())
    names += fmt::format("{}\\fI{}\\fR", names.empty() ? "" : " ", for_man(option.value));
  return fmt::format(".TP\n{}\n{}.\n", names, for_man(option.text));
}

std::string man_command(const ToldCommand& command) {
  std::string text =
      fmt::format(".SS standpoint {}\n{}.\n", command.name, for_man(command.summary));
  for (const ToldOption& option : command.options) text += man_option(option);
  return text;
}

/// The argument without a name: every command has one.
std::string input_of(const ToldCommand& command) {
  for (const ToldOption& option : command.options)
    if (option.names.empty()) return option.value;
  return "";
}

std::string names_of(const std::vector<ToldOption>& options) {
  std::vector<std::string> names;
  for (const ToldOption& option : options)
    names.insert(names.end(), option.names.begin(), option.names.end());
  return fmt::format("{}", fmt::join(names, " "));
}

/// What follows an option of this command: a folder, a file, or something that no shell can guess.
std::string bash_values(const ToldCommand& command) {
  std::string cases;
  for (const ToldOption& option : command.options) {
    if (option.names.empty() || option.value.empty()) continue;
    const char* then = takes_folder(option) ? "_standpoint_names -d"
                       : takes_file(option) ? "_standpoint_names -f"
                                            : ":";
    cases += fmt::format("                {}) {}; return ;;\n", fmt::join(option.names, "|"), then);
  }
  return cases;
}

/// A text inside of single quotes and brackets of a zsh specification.
std::string for_zsh(const std::string& text) {
  std::string safe = replaced(replaced(text, "\\", "\\\\"), "'", "'\\''");
  for (const char* special : {"[", "]", ":"})
    safe = replaced(safe, special, std::string("\\") + special);
  return safe;
}

std::string zsh_option(const ToldOption& option) {
  const char* then = takes_folder(option) ? "_files -/" : takes_file(option) ? "_files" : " ";
  if (option.names.empty())
    return fmt::format("        '{}:{}:{}'", option.is_list ? "*" : "1", for_zsh(option.text),
                       then);
  const std::string value =
      option.value.empty() ? "" : fmt::format(":{}:{}", for_zsh(option.value), then);
  std::vector<std::string> lines;
  for (const std::string& name : option.names)
    lines.push_back(fmt::format("        '{}[{}]{}'", name, for_zsh(option.text), value));
  return fmt::format("{}", fmt::join(lines, " \\\n"));
}

std::string zsh_arguments(const std::vector<ToldOption>& options) {
  std::vector<std::string> lines;
  lines.reserve(options.size());
  for (const ToldOption& option : options) lines.push_back(zsh_option(option));
  return fmt::format("      _arguments \\\n{}\n", fmt::join(lines, " \\\n"));
}

}  // namespace

bool asks_for_paper(std::string_view argument) {
  return argument == kMan || argument == kCompletion;
}

std::variant<Request, Answer, UsageFaults> paper(const std::vector<std::string>& arguments) {
  const bool is_man = arguments[0] == kMan;
  const std::size_t expected = is_man ? 1 : 2;
  if (arguments.size() > expected) {
    return UsageFaults{{{arguments[0], short_text(arguments[expected]),
                         "nothing more on the command line", FaultKind::other, ""}}};
  }
  if (is_man) return Answer{man_page()};
  const std::string shell = arguments.size() == expected ? arguments[1] : "";
  if (shell == "bash") return Answer{bash_completion()};
  if (shell == "zsh") return Answer{zsh_completion()};
  const std::string typed = arguments.size() == expected ? short_text(shell) : "";
  return UsageFaults{{{arguments[0], typed, "the name of a shell, bash or zsh",
                       typed.empty() ? FaultKind::missing : FaultKind::unknown_choice, ""}}};
}

std::string man_page() {
  const ToldProgram program = told_program();
  std::vector<std::string> ways;
  for (const ToldCommand& command : program.commands)
    ways.push_back(fmt::format(".B standpoint {}\n.I {}\n[\\fIOPTIONS\\fR]\n", command.name,
                               for_man(input_of(command))));
  for (const ToldOption& option : program.options)
    ways.push_back(fmt::format(".B standpoint {}\n", for_man(option.names.back())));
  std::string text =
      fmt::format(".TH STANDPOINT 1 {} \"standpoint {}\"\n", kVersionDate, STANDPOINT_VERSION);
  text += ".SH NAME\nstandpoint \\- plan where a laser tracker stands\n";
  text += fmt::format(".SH SYNOPSIS\n{}", fmt::join(ways, ".br\n"));
  text += fmt::format(".SH DESCRIPTION\n{}\n", for_man(program.summary));
  text += ".SH OPTIONS\n";
  for (const ToldOption& option : program.options) text += man_option(option);
  text += ".SH COMMANDS\n";
  for (const ToldCommand& command : program.commands) text += man_command(command);
  text += fmt::format(".SH EXIT STATUS\n{}\n.SH EXAMPLES\n.nf\n",
                      for_man(std::string(exit_status_words())));
  for (const CommandEntry& entry : command_entries()) text += for_man(entry.example) + "\n";
  return text + ".fi\n";
}

std::string bash_completion() {
  const ToldProgram program = told_program();
  std::string names = names_of(program.options);
  std::string cases;
  for (const ToldCommand& command : program.commands) {
    names += " " + command.name;
    cases += fmt::format(
        "        {})\n            case $previous in\n{}            esac\n"
        "            options='{}' ;;\n",
        command.name, bash_values(command), names_of(command.options));
  }
  std::string text =
      R"(# bash completion of standpoint, written by `standpoint --print-completion bash`

_standpoint_names()
{
    compopt -o filenames 2>/dev/null
    mapfile -t COMPREPLY < <(compgen "$1" -- "${COMP_WORDS[COMP_CWORD]}")
}

_standpoint()
{
    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]}
    local command='' options='NAMES'
    COMPREPLY=()
    if ((COMP_CWORD > 1)); then command=${COMP_WORDS[1]}; fi
    case $command in
        '') ;;
CASES        *) return ;;
    esac
    if [[ -z $command || $current == -* ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$options" -- "$current")
    else
        _standpoint_names -f
    fi
}

complete -F _standpoint standpoint
)";
  return replaced(replaced(text, "NAMES", names), "CASES", cases);
}

std::string zsh_completion() {
  const ToldProgram program = told_program();
  std::string commands, cases;
  for (const ToldCommand& command : program.commands) {
    commands += fmt::format("    '{}:{}'\n", command.name, for_zsh(command.summary));
    cases += fmt::format("    {})\n{}      ;;\n", command.name, zsh_arguments(command.options));
  }
  std::string text = R"(#compdef standpoint
# zsh completion of standpoint, written by `standpoint --print-completion zsh`

_standpoint() {
  local -a commands
  commands=(
COMMANDS  )
  if ((CURRENT == 2)); then
    if [[ ${words[CURRENT]} == -* ]]; then
OPTIONS    else
      _describe command commands
    fi
    return
  fi
  local command=${words[2]}
  shift words
  ((CURRENT--))
  case $command in
CASES  esac
}

_standpoint "$@"
)";
  text = replaced(replaced(text, "COMMANDS", commands), "CASES", cases);
  return replaced(text, "OPTIONS", zsh_arguments(program.options));
}

}  // namespace standpoint
