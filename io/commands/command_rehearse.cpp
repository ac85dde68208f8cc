#include <ostream>

#include "io/answers/rehearsal_json.h"
#include "io/answers/rehearsal_text.h"
#include "io/commands/commands.h"
#include "io/commands/progress.h"
#include "io/scene/read_plan.h"
#include "io/scene/read_scene.h"
#include "planner/cell.h"
#include "planner/rehearsal/rehearse.h"

namespace standpoint {
namespace {

/// Why a plan cannot be rehearsed, as a fault.
Faults no_network(const Request& request, const Scene& scene) {
  if (!states_error(scene.instrument))
    return {{"/instrument/error", "", "the instrument's error, to draw observations from",
             FaultKind::missing, ""}};
  return {{request.plan.string(), "a plan without a network to adjust",
           "stations that are tied through nests, in a datum of nests", FaultKind::other, ""}};
}

}  // namespace

Exit rehearse_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, console.shows_progress && !request.quiet);
  progress.say("reading the scene and its meshes");
  auto read = read_scene(request.scene);
  progress.clear();
  if (!read) return tell_faults(read.error(), request.json, console);
  Scene& scene = read->scene;
  const auto file = read_plan(request.plan, scene);
  if (!file) return tell_faults(file.error(), request.json, console);
  scene.nests.insert(scene.nests.end(), file->sites.begin(), file->sites.end());

  progress.say("looking from the plan's stations");
  const Cell cell(scene);
  const auto plan = look_again(cell, *file);
  progress.clear();
  if (!plan) return tell_faults(plan.error(), request.json, console);
  const PlanNetwork network = plan_network(scene, *plan);
  if (!states_error(scene.instrument))
    return tell_faults(no_network(request, scene), request.json, console);

  progress.say("rehearsing");
  RehearsalOrder order;
  order.trials = request.trials;
  order.seed = request.seed;
  Watch watch;
  watch.interrupted = console.interrupted;
  const auto rehearsal = rehearse(network, order, watch);
  progress.clear();
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  if (!rehearsal) return tell_faults(no_network(request, scene), request.json, console);
  if (request.json) {
    console.out << rehearsal_json(scene, *plan, *rehearsal);
  } else if (!request.quiet) {
    print_rehearsal(scene, *plan, *rehearsal, console.out);
  }
  return Exit::done;
}

}  // namespace standpoint
