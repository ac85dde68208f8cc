#include "io/write/text/why_plan_text.h"

#include <ostream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/stance_words.h"
#include "io/words/text.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

/// Of a feature that several stations share: which touches are taken from where.
void print_shared_touches(const Scene& scene, const WhyPlan& plan, Subject subject,
                          std::ostream& out) {
  for (const TouchesFrom& part : shared_touches(plan, subject)) {
    std::vector<std::string> numbers;
    for (const std::size_t touch : part.touches) numbers.push_back(std::to_string(touch + 1));
    const std::string line = (part.station ? "from " + plan.plan.stations[part.station->index].name
                                           : "from no station") +
                             (numbers.size() == 1 ? ": touch " : ": touches ") + list_of(numbers) +
                             (part.station ? ", with " + target_name(scene, part.target) : "");
    out << "  - " << for_terminal(line) << '\n';
  }
}

}  // namespace

void print_why_plan(const Scene& scene, const WhyPlan& plan, Subject subject, std::ostream& out) {
  std::vector<std::string> names;
  for (const StationId id : stations_for(plan, subject))
    names.push_back(plan.plan.stations[id.index].name);
  const std::string asked =
      plan.asked ? ", where this is " + plan.plan.stations[plan.asked->index].name : "";
  out << "\nIn the plan"
      << for_terminal(asked + (names.empty() ? ": measured from no station"
                                             : ": measured from " + list_of(names)))
      << '\n';
  print_shared_touches(scene, plan, subject, out);
  for (std::size_t s = 0; s < plan.plan.stations.size(); ++s) {
    if (plan.asked == StationId(s)) continue;
    const PlannedStation& station = plan.plan.stations[s];
    const SubjectSeen seen = seen_from(station, subject);
    std::string line = fmt::format("seen from {} at ({}) {}{}: {}", station.name,
                                   place_text(scene, station.at, step::kPlace), scene.units,
                                   after_place(station.up), verdict_words(seen.verdict));
    if (seen.target) line += ", " + target_name(scene, *seen.target);
    if (seen.margin) {
      const std::string margin = length_text(scene, *seen.margin, step::kMargin);
      if (margin != "-") line += ", margin " + margin + " " + scene.units;
    }
    out << "  - " << for_terminal(line) << '\n';
  }
}

}  // namespace standpoint
