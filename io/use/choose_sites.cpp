#include "io/use/choose_sites.h"

#include <utility>

namespace standpoint {

Faults nest_sites_missing(const Scene& scene) {
  if (!scene.nest_sites.empty() || !scene.nest_surfaces.empty()) return {};
  return {{"/nest_sites", "", "places to choose nests from: nest_sites or nest_surfaces",
           FaultKind::missing, ""}};
}

Answered<NestsAnswer> choose_sites(const Cell& cell, const Attendant& attendant) {
  if (Faults faults = nest_sites_missing(cell.scene()); !faults.empty())
    return wrong_input(std::move(faults));
  const Watch& watch = attendant.watch;
  auto choice = choose_nests(cell, {}, {}, watch);
  if (!choice) return interrupted();
  Advice advice = advise(choice->cell, choice->plan, choice->left, choice->candidates, watch);
  if (watch.is_interrupted()) return interrupted();
  Cautions cautions = find_cautions(choice->cell.scene(), choice->plan);
  return NestsAnswer{std::move(*choice), std::move(advice), std::move(cautions)};
}

}  // namespace standpoint
