#include <ostream>

#include "io/cli/commands.h"
#include "io/cli/progress.h"
#include "io/use/plan_scene.h"
#include "io/use/read_cell.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "io/write/files/plan_files.h"
#include "io/write/text/plan_answer_text.h"

namespace standpoint {

Exit plan_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  const Attendant attendant = attendant_at(console, progress, request.time_limit_s);
  const auto cell = read_cell(request, attendant);
  progress.clear();
  if (!cell) return tell_no_answer(cell.error(), request.json, console);
  if (const auto why = why_unwritable(request.folder)) return tell_failure(*why, console);

  const auto answer = plan_scene(*cell, attendant);
  progress.clear();
  if (!answer) return tell_nothing_written(answer.error(), request.json, console);
  const std::vector<OutFile> files = plan_files(*answer, request.qif);
  if (console.is_interrupted()) return tell_nothing_written({{}, "interrupted"}, false, console);
  if (const auto why = write_together(request.folder, files))
    return tell_failure(*why + "; nothing was written", console);

  if (request.json) {
    console.out << files[0].bytes;
  } else if (!request.quiet) {
    print_plan_answer(*answer, request.details, console.out);
    console.out << "\nWritten to " << for_terminal(request.folder.string())
                << ": plan.json, stations.csv, touches.csv, page.html"
                << (request.qif ? ", plan.qif\n" : "\n");
  }
  return is_all_required_reached(cell->scene(), answer->plan) ? Exit::done : Exit::blocked;
}

}  // namespace standpoint
