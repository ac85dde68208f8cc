#include "io/write/text/plan_text.h"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/paragraph.h"
#include "io/words/stance_words.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "planner/crew/work_order.h"

namespace standpoint {
namespace {

std::string nest_list(const Scene& scene, const std::vector<NestId>& nests) {
  std::vector<std::string> names;
  names.reserve(nests.size());
  for (const NestId nest : nests) names.push_back(scene.nests[nest.index].name);
  return nests.empty() ? "-" : fmt::format("{}", fmt::join(names, ", "));
}

std::size_t count_measured(const Plan& plan, StationId station) {
  return static_cast<std::size_t>(
      std::count_if(plan.features.begin(), plan.features.end(),
                    [&](const PlannedFeature& f) { return is_told_at(f, station); }));
}

void print_stations(const Scene& scene, const Plan& plan, std::ostream& out) {
  Table table{{{"station"},
               {fmt::format("x ({})", scene.units), Align::right},
               {"y", Align::right},
               {"z", Align::right},
               {"zone"},
               {"features", Align::right},
               {"nests (reference nests)"}},
              {}};
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const PlannedStation& station = plan.stations[s];
    table.rows.push_back(
        {station.name, length_text(scene, station.at.x(), step::kPlace),
         length_text(scene, station.at.y(), step::kPlace),
         length_text(scene, station.at.z(), step::kPlace), where_words(scene, station),
         std::to_string(count_measured(plan, StationId(s))), nest_list(scene, station.nests)});
  }
  if (!table.rows.empty()) out << "\nStations, by their measuring centre (instrument centre)\n";
  print(table, out);
}

std::vector<std::string> feature_row(const Scene& scene, const Plan& plan,
                                     const PlannedFeature& planned) {
  const Feature& feature = scene.features[planned.feature.index];
  std::string stations;
  if (planned.station) stations = plan.stations[planned.station->index].name;
  for (const StationId sharing : planned.stations) {
    if (!stations.empty()) stations += " + ";
    stations += plan.stations[sharing.index].name;
  }
  for (const StationId also : planned.also_from) stations += ", " + plan.stations[also.index].name;
  return {stations,
          feature.name,
          std::string(verdict_words(planned.verdict)),
          planned.target ? target_name(scene, *planned.target) : "-",
          planned.margin ? length_text(scene, *planned.margin, step::kMargin) : "-",
          planned.uncertainty
              ? length_text(scene, planned.uncertainty->expanded, step::kUncertainty)
              : "-"};
}

void print_features(const Scene& scene, const Plan& plan, std::ostream& out) {
  Table table{{{"station"},
               {"feature"},
               {"verdict"},
               {"target"},
               {fmt::format("margin ({})", scene.units), Align::right},
               {fmt::format("U ({})", scene.units), Align::right}},
              {}};
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    for (const PlannedFeature& planned : plan.features) {
      const bool is_first = !planned.stations.empty() && planned.stations.front() == StationId(s);
      if (planned.station == StationId(s) || is_first)
        table.rows.push_back(feature_row(scene, plan, planned));
    }
  }
  if (!table.rows.empty())
    out << "\nFeatures (margin: beam clearance; U: expanded uncertainty, k = 2)\n";
  print(table, out);
}

void print_blocked(const Scene& scene, const Plan& plan, std::ostream& out) {
  bool has_title = false;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.verdict != Verdict::blocked) continue;
    if (!has_title) out << "\nBlocked, and why\n";
    has_title = true;
    const Feature& feature = scene.features[planned.feature.index];
    const BlockedText text = blocked_text(scene, plan, planned.feature);
    const std::string from = text.from.empty() ? "" : "; seen from " + text.from + ":";
    print_paragraph(
        "  ", feature.name + (feature.required ? ": " : " (not required): ") + text.reason + from,
        out);
    for (const std::string& cause : text.causes) print_paragraph("    - ", cause, out);
  }
}

void print_links(const Scene& scene, const Plan& plan, std::ostream& out) {
  Table table{{{"link"}, {"shared nests"}}, {}};
  for (const Link& link : plan.links) {
    table.rows.push_back(
        {plan.stations[link.a.index].name + " - " + plan.stations[link.b.index].name,
         nest_list(scene, link.nests)});
  }
  if (!table.rows.empty())
    out << "\nLinks (these stations are tied: connected through common nests)\n";
  print(table, out);
}

void print_cautions(const Scene& scene, const Plan& plan, const Cautions& cautions,
                    std::ostream& out) {
  out << "\nCautions\n";
  for (const CautionText& caution : caution_texts(scene, plan, cautions)) {
    print_paragraph("  ", caution.title + ". " + caution.text, out);
    for (const std::string& item : caution.items) print_paragraph("    - ", item, out);
  }
  print_paragraph("  ", deference(), out);
  out << "\nA plan is a prediction. page.html of standpoint plan lists the field check to make "
         "before it is trusted.\n";
}

}  // namespace

void print_plan(const Scene& scene, const Plan& plan, const Cautions& cautions, std::ostream& out) {
  out << for_terminal(scene.name) << ": " << reached_sentence(scene, plan) << '\n'
      << optimality_sentence(plan) << ' ' << candidates_sentence(plan.candidates) << '\n';
  print_stations(scene, plan, out);
  print_features(scene, plan, out);
  print_blocked(scene, plan, out);
  print_links(scene, plan, out);
  if (!plan.warnings.empty()) out << "\nWarnings\n";
  for (const std::string& sentence : warning_sentences(scene, plan))
    print_paragraph("  - ", sentence, out);
  print_cautions(scene, plan, cautions, out);
}

}  // namespace standpoint
