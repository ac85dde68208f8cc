#include <ostream>

#include "io/cli/commands.h"
#include "io/cli/progress.h"
#include "io/use/choose_sites.h"
#include "io/use/read_cell.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "io/write/files/write_files.h"
#include "io/write/json/nests_json.h"
#include "io/write/text/nests_text.h"

namespace standpoint {

Exit nests_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const Attendant attendant = attendant_at(console, progress, request.time_limit_s);
  const auto cell = read_cell(request, attendant);
  progress.clear();
  if (!cell) return tell_no_answer(cell.error(), request.json, console);
  if (Faults faults = nest_sites_missing(cell->scene()); !faults.empty())
    return tell_faults(faults, request.json, console);
  if (const auto why = why_unwritable(request.folder)) return tell_failure(*why, console);

  const auto answer = choose_sites(*cell, attendant);
  progress.clear();
  if (!answer) return tell_nothing_written(answer.error(), request.json, console);
  const NestChoice& choice = answer->choice;
  const std::vector<OutFile> files{
      {"nests.json", nests_json(choice, answer->advice, answer->cautions)}};
  if (const auto why = write_together(request.folder, files))
    return tell_failure(*why + "; nothing was written", console);

  if (request.json) {
    console.out << files[0].bytes;
  } else if (!request.quiet) {
    if (request.details) {
      print_nests(choice, answer->advice, answer->cautions, console.out);
    } else {
      print_nests_summary(choice, answer->cautions, console.out);
    }
    console.out << "\nWritten to " << for_terminal(request.folder.string()) << ": nests.json\n";
  }
  const bool is_done =
      is_all_required_reached(choice.cell.scene(), choice.plan) && choice.answer.is_met;
  return is_done ? Exit::done : Exit::blocked;
}

}  // namespace standpoint
