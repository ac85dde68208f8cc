#include <ostream>

#include "io/answers/nests_json.h"
#include "io/answers/nests_text.h"
#include "io/commands/commands.h"
#include "io/commands/progress.h"
#include "io/commands/write_files.h"
#include "io/scene/read_scene.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "planner/cell.h"
#include "planner/nests/choose_nests.h"

namespace standpoint {
namespace {

const char* const kInterrupted = "interrupted; nothing was written";

Faults nothing_offered() {
  return {{"/nest_sites", "", "places to choose nests from: nest_sites or nest_surfaces",
           FaultKind::missing, ""}};
}

}  // namespace

Exit nests_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  progress.say("reading the scene and its meshes");
  const auto read = read_scene(request.scene);
  progress.clear();
  if (!read) return tell_faults(read.error(), request.json, console);
  const Scene& scene = read->scene;
  if (scene.nest_sites.empty() && scene.nest_surfaces.empty())
    return tell_faults(nothing_offered(), request.json, console);
  if (const auto why = why_unwritable(request.folder)) return tell_failure(*why, console);

  progress.say("building the tree over all bodies");
  const Cell cell(scene);
  Watch watch;
  watch.progress = [&](Stage stage, double fraction) { progress.tell(stage, fraction); };
  watch.interrupted = console.interrupted;
  watch.time_limit_s = request.time_limit_s;
  const auto choice = choose_nests(cell, {}, {}, watch);
  if (!choice) return tell_failure(kInterrupted, console);
  const Advice advice =
      advise(Cell(choice->scene, cell), choice->plan, choice->left, choice->candidates, watch);
  progress.clear();
  if (console.is_interrupted()) return tell_failure(kInterrupted, console);
  const Cautions cautions = find_cautions(choice->scene, choice->plan);
  const std::vector<OutFile> files{{"nests.json", nests_json(*choice, advice, cautions)}};
  if (const auto why = write_together(request.folder, files))
    return tell_failure(*why + "; nothing was written", console);

  if (request.json) {
    console.out << files[0].bytes;
  } else if (!request.quiet) {
    print_nests(*choice, advice, cautions, console.out);
    console.out << "\nWritten to " << for_terminal(request.folder.string()) << ": nests.json\n";
  }
  const bool is_done =
      is_all_required_reached(choice->scene, choice->plan) && choice->answer.is_met;
  return is_done ? Exit::done : Exit::blocked;
}

}  // namespace standpoint
