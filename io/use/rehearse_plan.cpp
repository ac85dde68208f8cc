#include "io/use/rehearse_plan.h"

#include <utility>

#include "io/read/plan/read_plan.h"
#include "io/use/read_cell.h"

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

RehearsalOrder order_of(const Request& request) {
  RehearsalOrder order;
  order.trials = request.trials;
  order.seed = request.seed;
  return order;
}

}  // namespace

Answered<RehearsalAnswer> rehearse_plan(const Request& request, const Attendant& attendant) {
  auto read = read_scene_of(request, attendant);
  if (!read) return tl::unexpected(std::move(read.error()));
  Scene& scene = read->scene;
  const auto file = read_plan(request.plan, scene);
  if (!file) return wrong_input(file.error());
  scene.nests.insert(scene.nests.end(), file->sites.begin(), file->sites.end());

  attendant.say("looking from the plan's stations");
  Cell cell(std::move(scene), std::move(read->meshes));
  auto plan = look_again(cell, *file);
  if (!plan) return wrong_input(std::move(plan.error()));

  attendant.say("simulating the observations");
  auto rehearsal = rehearse(cell.scene(), *plan, order_of(request), attendant.watch);
  if (attendant.watch.is_interrupted()) return interrupted();
  if (!rehearsal) return wrong_input(no_network(request, cell.scene()));
  return RehearsalAnswer{std::move(cell), std::move(*plan), std::move(*rehearsal)};
}

}  // namespace standpoint
