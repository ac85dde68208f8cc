#include "io/cli/run.h"

#include <filesystem>
#include <new>
#include <optional>
#include <ostream>
#include <variant>

#include <fmt/format.h>
#include <tbb/global_control.h>

#include "io/cli/commands.h"
#include "io/read/text/fault_text.h"
#include "io/words/text.h"

namespace standpoint {
namespace {

Exit dispatch(const Request& request, const Console& console) {
  std::optional<tbb::global_control> limit;
  if (request.threads) {
    limit.emplace(tbb::global_control::max_allowed_parallelism,
                  static_cast<std::size_t>(*request.threads));
  }
  switch (request.command) {
    case Command::check:
      return check_command(request, console);
    case Command::plan:
      return plan_command(request, console);
    case Command::nests:
      return nests_command(request, console);
    case Command::rehearse:
      return rehearse_command(request, console);
    case Command::sight:
      return sight_command(request, console);
    case Command::why:
      return why_command(request, console);
    case Command::compare:
      return compare_command(request, console);
    case Command::features:
      return features_command(request, console);
    case Command::start:
      return start_command(request, console);
    case Command::pack:
      return pack_command(request, console);
  }
  return Exit::wrong_input;
}

Exit answer(const std::vector<std::string>& arguments, const Console& console) {
  const auto asked = read_command_line(arguments);
  if (const auto* text = std::get_if<Answer>(&asked)) {
    console.out << text->text;
    return Exit::done;
  }
  if (const auto* usage = std::get_if<UsageFaults>(&asked))
    return tell_faults(usage->faults, usage->wants_json, console);
  return dispatch(std::get<Request>(asked), console);
}

}  // namespace

Exit tell_faults(const Faults& faults, bool as_json, const Console& console) {
  print_faults(faults, console.err);
  if (as_json) console.out << faults_json(faults);
  return Exit::wrong_input;
}

Exit tell_failure(const std::string& sentence, const Console& console) {
  console.err << "standpoint: " << for_terminal(sentence) << ".\n";
  return Exit::failed;
}

Exit tell_no_answer(const NoAnswer& why, bool as_json, const Console& console) {
  return why.faults.empty() ? tell_failure(why.reason, console)
                            : tell_faults(why.faults, as_json, console);
}

Exit tell_nothing_written(const NoAnswer& why, bool as_json, const Console& console) {
  return why.faults.empty() ? tell_failure(why.reason + "; nothing was written", console)
                            : tell_faults(why.faults, as_json, console);
}

Attendant attendant_at(const Console& console, ProgressLine& progress, double time_limit_s) {
  Attendant attendant;
  attendant.say = [&progress](const std::string& what) { progress.say(what); };
  attendant.watch.progress = [&progress](Stage stage, double fraction) {
    progress.tell(stage, fraction);
  };
  attendant.watch.interrupted = console.interrupted;
  attendant.watch.time_limit_s = time_limit_s;
  return attendant;
}

Exit run(const std::vector<std::string>& arguments, const Console& console) {
  Exit exit = Exit::failed;
  try {
    exit = answer(arguments, console);
  } catch (const std::bad_alloc&) {
    return tell_failure("there is not enough memory for this scene; nothing was written", console);
  } catch (const std::filesystem::filesystem_error& error) {
    // A packed scene could not be unpacked.
    return tell_failure(fmt::format("cannot write {}: {}; nothing was written",
                                    error.path1().string(), error.code().message()),
                        console);
  }
  console.out.flush();
  if (!console.out) return tell_failure("cannot write to standard output", console);
  return exit;
}

}  // namespace standpoint
