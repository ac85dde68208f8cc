#include "io/cli/command_options.h"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "io/cli/features_options.h"
#include "io/cli/look_options.h"
#include "io/cli/start_options.h"
#include "io/read/text/json_value.h"

namespace standpoint {
namespace {

void add_folder_options(CLI::App& app, Typed& typed, const std::string& files) {
  app.add_option("-o,--output", typed.folder,
                 "Folder to write " + files + " into; made where it is missing")
      ->type_name("DIR");
  app.add_option("--time-limit", typed.time_limit,
                 "How long to search for a proof that no plan needs fewer stations (default 120)")
      ->type_name("SECONDS");
  app.add_flag("--details", typed.details,
               "Print everything, not the summary alone: each feature with margin and "
               "uncertainty, each cause, link and caution, and what would help");
}

void add_plan_options(CLI::App& app, Typed& typed) {
  add_folder_options(app, typed, "plan.json, stations.csv, touches.csv and page.html");
  app.add_flag("--qif", typed.qif, "Write the plan as a QIF 3.0 document too, plan.qif");
}

void add_nests_options(CLI::App& app, Typed& typed) {
  add_folder_options(app, typed, "nests.json");
}

void add_check_options(CLI::App& app, Typed& typed) {
  app.add_option("-o,--output", typed.folder,
                 "Draw plan and elevation of the scene into this file: a .svg or .html")
      ->type_name("FILE");
}

void add_pack_options(CLI::App& app, Typed& typed) {
  app.add_option("-o,--output", typed.folder, "The zip file to write")->type_name("FILE.zip");
}

void add_rehearse_options(CLI::App& app, Typed& typed) {
  app.add_option("--plan", typed.plan,
                 "The plan.json, or nests.json, whose observations are simulated")
      ->type_name("FILE");
  app.add_option("--trials", typed.trials,
                 "How many times to simulate the observations (default 2000)")
      ->type_name("N");
  app.add_option("--seed", typed.seed,
                 "Seed of the simulation: the same seed gives the same result (default 1)")
      ->type_name("S");
}

void add_compare_options(CLI::App& app, Typed& typed) {
  app.add_flag("--details", typed.details,
               "Print every change, not the summary alone: each feature, station and tie");
}

void read_threads(const std::string& text, Request& request, Faults& faults) {
  constexpr int kMost = 1024;
  int threads = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), threads);
  if (error != std::errc() || end != text.data() + text.size() || threads < 1 || threads > kMost) {
    faults.push_back(wrong("--threads", text, fmt::format("a whole number from 1 to {}", kMost)));
  } else {
    request.threads = threads;
  }
}

void read_plan_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults) {
  request.folder = typed.folder;
  request.details = typed.details;
  request.qif = typed.qif;
  if (typed.folder.empty())
    faults.push_back(lacking_or_empty(app, "-o", "the folder to write into: -o DIR"));
  if (app.count("--time-limit") == 0) return;
  const auto limit = finite_number(typed.time_limit);
  if (limit && *limit > 0) {
    request.time_limit_s = *limit;
  } else {
    faults.push_back(wrong("--time-limit", typed.time_limit, "a number of seconds above 0"));
  }
}

void read_check_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults) {
  if (app.count("-o") == 0) return;
  request.file = typed.folder;
  const auto ending = request.file.extension();
  if (ending != ".svg" && ending != ".html")
    faults.push_back(wrong("-o", typed.folder, "a file whose name ends in .svg or .html"));
}

void read_pack_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults) {
  request.file = typed.folder;
  if (typed.folder.empty()) {
    faults.push_back(lacking_or_empty(app, "-o", "the zip file to write: -o FILE.zip"));
  } else if (request.file.extension() != ".zip") {
    faults.push_back(wrong("-o", typed.folder, "a file whose name ends in .zip"));
  }
}

/// A whole number as typed; nothing where it is none from `low` to `high`.
std::optional<std::uint64_t> whole_number(std::string_view text, std::uint64_t low,
                                          std::uint64_t high) {
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || value < low || value > high)
    return std::nullopt;
  return value;
}

void read_rehearse_options(const Typed& typed, const CLI::App& app, Request& request,
                           Faults& faults) {
  constexpr std::uint64_t kLeastTrials = 10, kMostTrials = 1'000'000;
  request.plan = typed.plan;
  if (typed.plan.empty())
    faults.push_back(lacking_or_empty(app, "--plan", "the plan to rehearse: --plan FILE"));
  if (app.count("--trials") > 0) {
    const auto trials = whole_number(typed.trials, kLeastTrials, kMostTrials);
    if (!trials)
      faults.push_back(
          wrong("--trials", typed.trials,
                fmt::format("a whole number from {} to {}", kLeastTrials, kMostTrials)));
    request.trials = static_cast<int>(trials.value_or(kLeastTrials));
  }
  if (app.count("--seed") > 0) {
    const auto seed = whole_number(typed.seed, 0, UINT64_MAX);
    if (!seed)
      faults.push_back(
          wrong("--seed", typed.seed, "a whole number from 0 to 18446744073709551615"));
    request.seed = seed.value_or(0);
  }
}

void read_compare_options(const Typed& typed, const CLI::App&, Request& request, Faults&) {
  request.details = typed.details;
}

// One entry a command; a new one begins here.
constexpr std::array kCommands{
    CommandEntry{Command::check, "check", "Check a scene and its meshes, and list what is wrong",
                 "standpoint check hall.json", add_check_options, read_check_options},
    CommandEntry{Command::plan, "plan", "Plan the stations and write the plan into a folder",
                 "standpoint plan hall.json -o hall-plan", add_plan_options, read_plan_options},
    CommandEntry{Command::nests, "nests", "Propose where to put reference nests",
                 "standpoint nests hall.json -o hall-nests", add_nests_options, read_plan_options},
    CommandEntry{Command::rehearse, "rehearse",
                 "Simulate a plan's observations: do they scatter as predicted, and would "
                 "blunders be noticed?",
                 "standpoint rehearse hall.json --plan hall-plan/plan.json --trials 2000",
                 add_rehearse_options, read_rehearse_options},
    CommandEntry{Command::sight, "sight", "Judge every feature and nest as seen from one place",
                 "standpoint sight hall.json --at 1200,-3000,1400", add_sight_options,
                 read_sight_options},
    CommandEntry{Command::why, "why",
                 "Explain why a feature or nest is not reached from one place, and what would "
                 "fix it",
                 "standpoint why hall.json --at 1200,-3000,1400 --feature pad-1", add_why_options,
                 read_why_options},
    CommandEntry{Command::compare,
                 "compare",
                 "Tell what changed from one plan to another",
                 "standpoint compare plan-before/plan.json plan-after/plan.json",
                 add_compare_options,
                 read_compare_options,
                 {"PLAN PLAN", "Two files plan.json or nests.json, the one before first",
                  "two plan files", 2, 2}},
    CommandEntry{Command::features,
                 "features",
                 "Find what can be measured on a CAD part: holes, slots, bosses, planes ...",
                 "standpoint features casting.step --kind hole --size 5..20",
                 add_features_options,
                 read_features_options,
                 {"FILE...", "STEP or IGES files of parts, or lists of features (.csv)",
                  "one file of a part or more", 1, std::numeric_limits<int>::max()}},
    CommandEntry{Command::start,
                 "start",
                 "Write a first scene for a part, ready to be planned",
                 "standpoint start housing.step -o job",
                 add_start_options,
                 read_start_options,
                 {"PART...", "CAD or mesh files of the part, in one frame",
                  "one or more files of a part", 1, 1000}},
    CommandEntry{Command::pack, "pack", "Put a scene with all that it names into one file",
                 "standpoint pack hall.json -o hall.zip", add_pack_options, read_pack_options},
};

}  // namespace

std::span<const CommandEntry> command_entries() {
  return kCommands;
}

void add_common_options(CLI::App& app, const Input& input, Typed& typed) {
  if (input.most == 1) {
    app.add_option("scene", typed.scene, input.text)->type_name(input.name);
  } else {
    // How many there are is checked below, where the fault can say what is missing.
    app.add_option("files", typed.files, input.text)
        ->type_name(input.name)
        ->expected(0, std::numeric_limits<int>::max());
  }
  app.add_flag("--json", typed.json, "Print one JSON object instead of tables");
  app.add_flag("--quiet", typed.quiet, "Print no tables and no progress");
  app.add_option("--threads", typed.threads, "Use at most so many threads (default: all cores)")
      ->type_name("N");
}

void read_common_options(const Typed& typed, const CLI::App& app, const CommandEntry& entry,
                         Request& request, Faults& faults) {
  const Input& input = entry.input;
  request.scene = typed.scene;
  request.json = typed.json;
  request.quiet = typed.quiet;
  if (input.most == 1) {
    if (typed.scene.empty())
      faults.push_back(lacking(input.name, fmt::format("a scene file, as in: {}", entry.example)));
  } else {
    const auto count = static_cast<int>(typed.files.size());
    request.files.assign(typed.files.begin(), typed.files.end());
    const std::string expected = fmt::format("{}, as in: {}", input.words, entry.example);
    if (count == 0) {
      faults.push_back(lacking(input.name, expected));
    } else if (count < input.least || count > input.most) {
      faults.push_back(
          {input.name, fmt::format("{} of them", count), expected, FaultKind::other, ""});
    }
  }
  if (app.count("--threads") > 0) read_threads(typed.threads, request, faults);
}

Fault lacking(std::string option, std::string expected) {
  return {std::move(option), "", std::move(expected), FaultKind::missing, ""};
}

Fault lacking_or_empty(const CLI::App& app, const std::string& option, std::string expected) {
  return app.count(option) > 0 ? wrong(option, "", std::move(expected))
                               : lacking(option, std::move(expected));
}

std::string_view exit_status_words() {
  return "0 done; 1 done, but something required is blocked; 2 the input is wrong and\n"
         "nothing was written; 3 a resource failed (disk, memory, interrupted).";
}

namespace {

std::string closing() {
  return fmt::format("Exit status: {}", exit_status_words());
}

void add_command(CLI::App& app, const CommandEntry& entry, Typed& typed) {
  CLI::App& command = *app.add_subcommand(entry.name, entry.summary);
  if (entry.add_options != nullptr) entry.add_options(command, typed);
  add_common_options(command, entry.input, typed);
  command.footer(fmt::format("Example:\n  {}\n\n{}", entry.example, closing()));
}

std::string top_footer() {
  std::string text = "Examples:\n";
  for (const CommandEntry& entry : command_entries()) text += fmt::format("  {}\n", entry.example);
  return text + "\n'standpoint COMMAND --help' lists a command's options.\n\n" + closing();
}

}  // namespace

void describe_program(CLI::App& app, Typed& typed) {
  app.description(
      "Plans where a laser tracker stands so that every feature of a part can be measured.");
  app.name("standpoint");
  app.set_version_flag("--version", "standpoint " STANDPOINT_VERSION,
                       "Print the version and leave");
  app.footer(top_footer());
  app.require_subcommand(0, 1);
  for (const CommandEntry& entry : command_entries()) add_command(app, entry, typed);
}

std::optional<double> finite_number(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

Fault wrong(std::string option, const std::string& typed, std::string expected) {
  return {std::move(option), short_text(typed), std::move(expected), FaultKind::other, ""};
}

}  // namespace standpoint
