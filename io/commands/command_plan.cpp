#include <ostream>

#include "io/answers/advice_text.h"
#include "io/answers/plan_csv.h"
#include "io/answers/plan_json.h"
#include "io/answers/plan_text.h"
#include "io/commands/commands.h"
#include "io/commands/progress.h"
#include "io/commands/write_files.h"
#include "io/live/page_html.h"
#include "io/scene/read_scene.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "planner/cell.h"
#include "planner/planning/advice.h"
#include "planner/planning/cautions.h"
#include "planner/planning/make_plan.h"

namespace standpoint {
namespace {

const char* const kInterrupted = "interrupted; nothing was written";

struct Planned {
  Plan plan;
  Advice advice;
};

std::optional<Planned> planned(const Scene& scene, const Request& request, const Console& console,
                               ProgressLine& progress) {
  progress.say("building the tree over all bodies");
  const Cell cell(scene);
  Watch watch;
  watch.progress = [&](Stage stage, double fraction) { progress.tell(stage, fraction); };
  watch.interrupted = console.interrupted;
  watch.time_limit_s = request.time_limit_s;
  auto plan = make_plan(cell, watch);
  if (!plan) return std::nullopt;
  progress.say("looking for what the plan hangs on");
  Advice advice = advise(cell, *plan, scene.nest_sites, raise_candidates(cell).kept, watch);
  return Planned{std::move(*plan), std::move(advice)};
}

std::vector<OutFile> files_of(const Scene& scene, const Plan& plan, const Advice& advice,
                              const Cautions& cautions) {
  const std::string plan_object = plan_json(scene, plan, cautions, &advice);
  return {{"plan.json", plan_object},
          {"stations.csv", stations_csv(scene, plan)},
          {"touches.csv", touches_csv(scene, plan)},
          {"page.html", page_html(scene, plan, cautions, plan_object)}};
}

}  // namespace

Exit plan_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  progress.say("reading the scene and its meshes");
  const auto read = read_scene(request.scene);
  progress.clear();
  if (!read) return tell_faults(read.error(), request.json, console);
  const Scene& scene = read->scene;
  if (const auto why = why_unwritable(request.folder)) return tell_failure(*why, console);

  const std::optional<Planned> made = planned(scene, request, console, progress);
  progress.clear();
  if (!made || console.is_interrupted()) return tell_failure(kInterrupted, console);
  const Plan& plan = made->plan;
  const Cautions cautions = find_cautions(scene, plan);
  const std::vector<OutFile> files = files_of(scene, plan, made->advice, cautions);
  if (console.is_interrupted()) return tell_failure(kInterrupted, console);
  if (const auto why = write_together(request.folder, files))
    return tell_failure(*why + "; nothing was written", console);

  if (request.json) {
    console.out << files[0].bytes;
  } else if (!request.quiet) {
    print_plan(scene, plan, cautions, console.out);
    print_advice(scene, plan, made->advice, console.out);
    console.out << "\nWritten to " << for_terminal(request.folder.string())
                << ": plan.json, stations.csv, touches.csv, page.html\n";
  }
  return is_all_required_reached(scene, plan) ? Exit::done : Exit::blocked;
}

}  // namespace standpoint
