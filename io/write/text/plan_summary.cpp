#include "io/write/text/plan_summary.h"

#include <algorithm>
#include <cmath>
#include <ostream>
#include <sstream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/motion_words.h"
#include "io/words/paragraph.h"
#include "io/words/stance_words.h"
#include "io/words/summary_words.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "planner/crew/work_order.h"

namespace standpoint {
namespace {

std::size_t count_lines(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

void print_head(const Scene& scene, const Plan& plan, std::ostream& out) {
  print_paragraph("", scene.name + ": " + reached_sentence(scene, plan), out);
  print_paragraph("", optimality_sentence(plan) + " " + candidates_sentence(plan.candidates), out);
}

/// The worst uncertainty and the least margin, each with its feature; whether all is tied.
void print_figures(const Scene& scene, const Plan& plan, std::ostream& out) {
  const PlannedFeature *worst = nullptr, *least = nullptr;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.uncertainty &&
        (worst == nullptr || planned.uncertainty->expanded > worst->uncertainty->expanded))
      worst = &planned;
    if (is_measured(planned) && planned.margin && std::isfinite(*planned.margin) &&
        (least == nullptr || *planned.margin < *least->margin))
      least = &planned;
  }
  const auto name = [&](const PlannedFeature* planned) {
    return for_terminal(scene.features[planned->feature.index].name);
  };
  if (worst != nullptr || least != nullptr || !plan.links.empty() || scene.alignment) out << '\n';
  if (!plan.links.empty())
    out << "The stations are tied (connected through common nests) by "
        << counted(plan.links.size(), "link", "links") << ".\n";
  if (scene.alignment) print_paragraph("", alignment_sentence(scene, plan), out);
  if (least != nullptr)
    out << "Least margin (beam clearance): "
        << length_with_unit(scene, *least->margin, step::kMargin) << ", at " << name(least)
        << ".\n";
  if (worst != nullptr)
    out << "Worst expanded uncertainty (U, k = 2): "
        << length_with_unit(scene, worst->uncertainty->expanded, step::kUncertainty) << ", at "
        << name(worst) << ".\n";
}

void print_stations(const Scene& scene, const Plan& plan, std::size_t rows, std::ostream& out) {
  if (plan.stations.empty()) return;
  Table table{{{"station"},
               {fmt::format("x ({})", scene.units), Align::right},
               {"y", Align::right},
               {"z", Align::right},
               {"where"},
               {"features", Align::right},
               {"nests", Align::right}},
              {}};
  for (std::size_t s = 0; s < plan.stations.size() && s < rows; ++s) {
    const PlannedStation& station = plan.stations[s];
    const auto features = std::count_if(
        plan.features.begin(), plan.features.end(),
        [&](const PlannedFeature& planned) { return is_told_at(planned, StationId(s)); });
    table.rows.push_back({station.name, length_text(scene, station.at.x(), step::kPlace),
                          length_text(scene, station.at.y(), step::kPlace),
                          length_text(scene, station.at.z(), step::kPlace),
                          where_words(scene, station), std::to_string(features),
                          std::to_string(station.nests.size())});
  }
  out << "\nStations: the measuring centre (instrument centre), and how many features and nests\n"
         "(reference nests, the tie and drift points) are measured from it\n";
  print(table, out);
  if (plan.stations.size() > rows)
    out << "  ... and " << plan.stations.size() - rows << " more (--details)\n";
}

/// Required ones first, so that they are the last to be left out.
std::vector<FeatureId> blocked_features(const Scene& scene, const Plan& plan) {
  std::vector<FeatureId> blocked;
  for (const PlannedFeature& planned : plan.features)
    if (planned.verdict == Verdict::blocked) blocked.push_back(planned.feature);
  std::stable_partition(blocked.begin(), blocked.end(),
                        [&](FeatureId id) { return scene.features[id.index].required; });
  return blocked;
}

void print_blocked(const Scene& scene, const Plan& plan, const std::vector<FeatureId>& blocked,
                   std::size_t rows, std::ostream& out) {
  if (blocked.empty()) return;
  out << "\nBlocked, and why\n";
  for (std::size_t i = 0; i < blocked.size() && i < rows; ++i) {
    out << "  - "
        << for_terminal(scene.features[blocked[i].index].name + ": " +
                        blocked_line(scene, plan, blocked[i]))
        << '\n';
  }
  if (blocked.size() > rows) out << "  ... and " << blocked.size() - rows << " more (--details)\n";
}

void print_warnings(const Scene& scene, const Plan& plan, std::ostream& out) {
  const std::vector<std::string> lines = warning_lines(scene, plan);
  if (lines.empty()) return;
  out << "\nWarnings, each with all names in the JSON file and with --details\n";
  for (const std::string& line : lines) out << "  - " << for_terminal(line) << '\n';
}

void print_foot(const Cautions& cautions, std::ostream& out) {
  out << '\n';
  print_paragraph("",
                  "Cautions (not complete; local codes, the instrument's manual and licensed "
                  "practice come first): " +
                      cautions_line(cautions) + ".",
                  out);
  print_paragraph("",
                  "A plan is a prediction: make the field check of the set-up sheet (page.html of "
                  "standpoint plan) first. --details prints everything here.",
                  out);
}

}  // namespace

void print_plan_summary(const Scene& scene, const Plan& plan, const Cautions& cautions,
                        std::size_t most_lines, std::ostream& out) {
  // What must be said comes first; stations and blocked features share the lines that are left.
  constexpr std::size_t kStationsHead = 5;  // empty line, two of title, table's head and rule
  constexpr std::size_t kBlockedHead = 2;
  std::ostringstream head, rest;
  print_head(scene, plan, head);
  print_figures(scene, plan, head);
  print_warnings(scene, plan, rest);
  print_foot(cautions, rest);
  const std::vector<FeatureId> blocked = blocked_features(scene, plan);
  const std::size_t said = count_lines(head.str()) + count_lines(rest.str()) +
                           (plan.stations.empty() ? 0 : kStationsHead + 1) +
                           (blocked.empty() ? 0 : kBlockedHead + 1);  // 1: "... and 3 more"
  const std::size_t left = most_lines > said ? most_lines - said : 0;
  constexpr std::size_t kLeast = 2;
  const std::size_t half = std::max(left / 2, kLeast);
  const std::size_t stations =
      std::max(half, left > blocked.size() ? left - blocked.size() : std::size_t{0});
  const std::size_t shown = std::min(stations, plan.stations.size());
  out << head.str();
  print_stations(scene, plan, stations, out);
  print_blocked(scene, plan, blocked, std::max(left > shown ? left - shown : 0, kLeast), out);
  out << rest.str();
}

}  // namespace standpoint
