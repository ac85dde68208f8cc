#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "io/cli/command_line.h"

namespace standpoint {

// What a packager installs beside the program, made from the table of commands and options, so that
// it never tells of others than --help does.

/// Whether the first argument asks for one of these papers (`--print-man`, `--print-completion`).
/// These two stand in no --help: people never need them.
[[nodiscard]] bool asks_for_paper(std::string_view argument);

/// `--print-man`: the manual page; `--print-completion bash` or `zsh`: what completes commands,
/// options and files in that shell. Anything else is a fault. Precondition: asks_for_paper of the
/// first argument.
[[nodiscard]] std::variant<Request, Answer, UsageFaults> paper(
    const std::vector<std::string>& arguments);

/// The manual page, in the man macros that groff and mandoc read.
[[nodiscard]] std::string man_page();

/// A script for bash 4 or newer.
[[nodiscard]] std::string bash_completion();

/// A script for zsh 5, in the form that its completion system loads from a folder of functions.
[[nodiscard]] std::string zsh_completion();

}  // namespace standpoint
