#include "io/write/text/nests_text.h"

#include <algorithm>
#include <ostream>
#include <sstream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/json/nests_json.h"
#include "io/write/text/advice_text.h"
#include "io/write/text/plan_summary.h"
#include "io/write/text/plan_text.h"

namespace standpoint {
namespace {

std::string headline(const NestChoice& choice) {
  const std::size_t sites = choice.cell.scene().nests.size() - choice.existing;
  std::string text = counted(sites, "site", "sites") + " of " +
                     std::to_string(sites + choice.left.size()) + " chosen";
  if (choice.existing > 0)
    text += ", beside " + counted(choice.existing, "nest", "nests") + " that stay";
  if (proof_of(choice) == ProofStatus::optimal)
    return text + "; proven: fewer are not enough, and no other choice of as many is better.";
  return text + fmt::format("; proven: no fewer than {}.", choice.answer.lower_bound);
}

void print_sites(const NestChoice& choice, std::ostream& out) {
  const Scene& scene = choice.cell.scene();
  Table table{{{"site"},
               {fmt::format("x ({})", scene.units), Align::right},
               {"y", Align::right},
               {"z", Align::right},
               {"measured from"}},
              {}};
  for (std::size_t n = choice.existing; n < scene.nests.size(); ++n) {
    std::vector<std::string> stations;
    for (const PlannedStation& station : choice.plan.stations)
      if (std::find(station.nests.begin(), station.nests.end(), NestId(n)) != station.nests.end())
        stations.push_back(station.name);
    table.rows.push_back({scene.nests[n].name,
                          length_text(scene, scene.nests[n].at.x(), step::kPlace),
                          length_text(scene, scene.nests[n].at.y(), step::kPlace),
                          length_text(scene, scene.nests[n].at.z(), step::kPlace),
                          fmt::format("{}", fmt::join(stations, ", "))});
  }
  if (!table.rows.empty()) out << "\nNest sites\n";
  print(table, out);
}

/// What was found, how good it is, and the sites.
void print_choice(const NestChoice& choice, std::ostream& out) {
  const Scene& scene = choice.cell.scene();
  out << for_terminal(scene.name) << ": " << headline(choice) << '\n';
  if (choice.answer.worst)
    out << "Worst expanded uncertainty (U, k = 2): "
        << length_with_unit(scene, *choice.answer.worst, step::kUncertainty) << ".\n";
  if (scene.rules.max_expanded)
    out << "The scene asks for at most "
        << length_with_unit(scene, *scene.rules.max_expanded, step::kUncertainty)
        << (choice.answer.is_met ? ": met.\n" : ": NOT met.\n");
  for (const std::string& sentence : bounded_sentences(choice)) out << "  - " << sentence << '\n';
  print_sites(choice, out);
}

}  // namespace

void print_nests(const NestChoice& choice, const Advice& advice, const Cautions& cautions,
                 std::ostream& out) {
  const Scene& scene = choice.cell.scene();
  print_choice(choice, out);
  print_uncertainty(scene, choice.plan, out);
  print_advice(scene, choice.plan, advice, out);
  out << "\nThe plan with these nests\n\n";
  print_plan(scene, choice.plan, cautions, out);
}

void print_nests_summary(const NestChoice& choice, const Cautions& cautions, std::ostream& out) {
  std::ostringstream own;
  print_choice(choice, own);
  own << "\nThe plan with these nests\n\n";
  const std::string text = own.str();
  const auto lines = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
  out << text;
  print_plan_summary(choice.cell.scene(), choice.plan, cautions,
                     kSummaryLines - std::min(lines, kSummaryLines), out);
}

}  // namespace standpoint
