#include "io/write/text/comparison_text.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <ostream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/stance_words.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/tolerances.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

using RecordedFeature = PlanRecord::Feature;
using Figure = std::optional<double> RecordedFeature::*;

/// Lengths are told in the units of the plan after.
Scene units_of(const PlanRecord& plan) {
  Scene scene;
  scene.units = plan.units;
  scene.mm_per_unit = plan.mm_per_unit;
  return scene;
}

std::string figure_text(const Scene& scene, std::optional<double> mm, double step_mm) {
  return mm ? length_text(scene, *mm, step_mm) : "none";
}

/// "3 of 4" features.
std::string share(const PlanRecord& plan) {
  const auto measured =
      std::count_if(plan.features.begin(), plan.features.end(),
                    [](const PlanRecord::Feature& feature) { return is_measured(feature); });
  return fmt::format("{} of {}", measured, plan.features.size());
}

/// What the plan says about these features, each with a note where it is not what one expects.
std::vector<std::string> noted(const std::vector<std::string>& names, const PlanRecord& plan,
                               const std::vector<std::string>& alone) {
  std::vector<std::string> notes;
  for (const std::string& name : names) {
    const auto feature = std::find_if(plan.features.begin(), plan.features.end(),
                                      [&](const RecordedFeature& one) { return one.name == name; });
    const bool is_alone = std::find(alone.begin(), alone.end(), name) != alone.end();
    std::string note = name;
    if (is_alone)
      note += " (only in this plan)";
    else if (!feature->required)
      note += " (not required)";
    notes.push_back(std::move(note));
  }
  return notes;
}

using Row = std::vector<std::string>;

Row measured_row(const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  std::vector<std::string> words;
  if (!comparison.gained.empty())
    words.push_back("gained " + list_of(noted(comparison.gained, after, comparison.only_after)));
  if (!comparison.lost.empty())
    words.push_back("lost " + list_of(noted(comparison.lost, before, comparison.only_before)));
  if (words.empty()) words.emplace_back("the same features");
  std::vector<std::string> blocked;
  for (const RecordedFeature& feature : after.features)
    if (feature.required && !is_measured(feature)) blocked.push_back(feature.name);
  if (!blocked.empty()) words.push_back("required but blocked now: " + list_of(blocked));
  return {"measured", share(before), share(after), fmt::format("{}", fmt::join(words, "; "))};
}

std::string count_full(const PlanRecord& plan) {
  return std::to_string(std::count_if(
      plan.features.begin(), plan.features.end(),
      [](const RecordedFeature& feature) { return feature.verdict == Verdict::full_target; }));
}

/// The names of the changed features for which `is_asked`.
template <class Asked>
std::vector<std::string> changed_names(const CompareAnswer& answer, Asked is_asked) {
  std::vector<std::string> names;
  for (const FeatureChange& change : answer.comparison.changed)
    if (is_asked(change)) names.push_back(answer.after.features[change.after].name);
  return names;
}

Row target_row(const CompareAnswer& answer) {
  const auto verdict_is = [&](Verdict verdict) {
    return [&answer, verdict](const FeatureChange& change) {
      return change.verdict && answer.after.features[change.after].verdict == verdict;
    };
  };
  std::vector<std::string> words;
  const auto add = [&](std::string_view what, const std::vector<std::string>& names) {
    if (!names.empty()) words.push_back(fmt::format("{}: {}", what, list_of(names)));
  };
  add("now by full target", changed_names(answer, verdict_is(Verdict::full_target)));
  add("now by stylus", changed_names(answer, verdict_is(Verdict::offset_stylus)));
  add("another target", changed_names(answer, [](const FeatureChange& change) {
        return change.target && !change.verdict;
      }));
  return {"by full target", count_full(answer.before), count_full(answer.after),
          words.empty() ? "the same targets" : fmt::format("{}", fmt::join(words, "; "))};
}

Row stations_row(const Scene& scene, const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  std::vector<std::string> words;
  for (const KeptStation& kept : comparison.kept) {
    const std::string& old = before.stations[kept.before].name;
    std::string told = old;
    if (kept.is_moved) told += " moved " + length_with_unit(scene, kept.moved, step::kPlace);
    if (kept.is_renamed) told += " is now called " + after.stations[kept.after].name;
    if (kept.is_turned) told += " now stands " + stance_with_head(after.stations[kept.after].up);
    if (kept.is_moved || kept.is_renamed || kept.is_turned) words.push_back(std::move(told));
  }
  for (const std::size_t station : comparison.removed)
    words.push_back(before.stations[station].name + " removed");
  for (const std::size_t station : comparison.added)
    words.push_back(after.stations[station].name + " added");
  return {"stations", std::to_string(before.stations.size()), std::to_string(after.stations.size()),
          words.empty() ? "all where they stood" : list_of(words)};
}

std::string first_station(const PlanRecord& plan, const RecordedFeature& feature) {
  if (feature.stations.empty()) return "none";
  std::string names = plan.stations[feature.stations[0]].name;
  for (std::size_t i = 1; feature.is_shared && i < feature.stations.size(); ++i)
    names += " + " + plan.stations[feature.stations[i]].name;
  return names;
}

/// How many features went from which station to which; most first.
Row moves_row(const CompareAnswer& answer) {
  std::map<std::pair<std::string, std::string>, std::size_t> moves;
  std::size_t count = 0;
  for (const FeatureChange& change : answer.comparison.changed) {
    if (!change.station) continue;
    ++count;
    ++moves[{first_station(answer.before, answer.before.features[change.before]),
             first_station(answer.after, answer.after.features[change.after])}];
  }
  if (count == 0) return {"taken from", "", "", "the same stations"};
  std::vector<std::pair<std::size_t, std::string>> sorted;
  for (const auto& [ends, features] : moves)
    sorted.emplace_back(features,
                        fmt::format("{} from {} to {}", features, ends.first, ends.second));
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::string> words;
  for (auto& [features, text] : sorted) words.push_back(std::move(text));
  return {
      "taken from", "", "",
      fmt::format("{}: {}", counted(count, "feature changed", "features changed"), list_of(words))};
}

/// A figure that each feature has: what it is, and when it counts as changed.
struct Told {
  const char* title;
  Figure figure;
  bool FeatureChange::*flag;
  double step_mm;    ///< the finest that is shown
  double change_mm;  ///< what counts as a change
  bool is_least_worst;
};
constexpr Told kMargin{"least margin", &RecordedFeature::margin, &FeatureChange::margin,
                       step::kMargin,  tolerance::kMarginChange, true};
constexpr Told kExpanded{"worst uncertainty",           &RecordedFeature::expanded,
                         &FeatureChange::uncertainty,   step::kUncertainty,
                         tolerance::kUncertaintyChange, false};

/// The worst of a plan; none where no feature that it measures has the figure.
std::optional<double> worst_of(const PlanRecord& plan, const Told& told) {
  std::optional<double> found;
  for (const RecordedFeature& feature : plan.features) {
    const auto& value = feature.*told.figure;
    if (!is_measured(feature) || !value) continue;
    if (!found || (told.is_least_worst ? *value < *found : *value > *found)) found = value;
  }
  return found;
}

Row figure_row(const Scene& scene, const CompareAnswer& answer, const Told& told) {
  const auto text = [&](const std::optional<double>& mm) {
    return figure_text(scene, mm, told.step_mm);
  };
  const FeatureChange* most = nullptr;
  double most_change = -1;
  std::size_t count = 0;
  for (const FeatureChange& change : answer.comparison.changed) {
    if (!(change.*told.flag)) continue;
    ++count;
    const auto &old = answer.before.features[change.before].*told.figure,
               &now = answer.after.features[change.after].*told.figure;
    const double change_mm =
        old && now ? std::abs(*now - *old) : std::numeric_limits<double>::infinity();
    if (change_mm > most_change) {
      most = &change;
      most_change = change_mm;
    }
  }
  const std::string by = length_with_unit(scene, told.change_mm, told.step_mm) + " or more";
  std::string words = "none changed by " + by;
  if (most != nullptr) {
    const RecordedFeature &old = answer.before.features[most->before],
                          &now = answer.after.features[most->after];
    words = fmt::format("{} by {}; most: {}, {} to {}",
                        counted(count, "feature changed", "features changed"), by, now.name,
                        text(old.*told.figure), text(now.*told.figure));
  }
  return {told.title, text(worst_of(answer.before, told)), text(worst_of(answer.after, told)),
          std::move(words)};
}

std::string link_name(const PlanRecord& plan, std::size_t index) {
  const PlanRecord::Link& link = plan.links[index];
  return plan.stations[link.a].name + " to " + plan.stations[link.b].name;
}

Row ties_row(const CompareAnswer& answer) {
  const auto& [before, after, comparison] = answer;
  std::vector<std::string> words;
  for (const std::size_t link : comparison.lost_links)
    words.push_back("lost " + link_name(before, link));
  for (const std::size_t link : comparison.gained_links)
    words.push_back("new " + link_name(after, link));
  for (const LinkChange& change : comparison.changed_links)
    words.push_back("other nests for " + link_name(after, change.after));
  std::string told = words.empty() ? "the same" : list_of(words);
  if (!is_tied(after)) told += "; not all stations are tied now";
  return {"ties", std::to_string(before.links.size()), std::to_string(after.links.size()),
          std::move(told)};
}

/// What must be known before the figures are read.
void print_notes(const CompareAnswer& answer, std::ostream& out) {
  const auto& [before, after, comparison] = answer;
  if (before.scene != after.scene) {
    out << fmt::format(
        "The plans are of two scenes, {} and {}. Features go by their names: {} only "
        "in the first, {} only in the second.\n",
        for_terminal(before.scene), for_terminal(after.scene), comparison.only_before.size(),
        comparison.only_after.size());
  }
  if (before.units != after.units)
    out << fmt::format("The first plan is in {}, the second in {}: all lengths are told in {}.\n",
                       before.units, after.units, after.units);
}

/// "a" where both are the same, else "a to b".
std::string from_to(const std::string& from, const std::string& to) {
  return from == to ? from : from + " to " + to;
}

void print_stations(const Scene& scene, const CompareAnswer& answer, std::ostream& out) {
  const auto& [before, after, comparison] = answer;
  Table table{{{"station"}, {"before"}, {"after"}, {"moved", Align::right}}, {}};
  const auto place = [&](const PlanRecord::Station& station) {
    return place_text(scene, station.at, step::kPlace) +
           (is_upright(station.up) ? "" : ", " + stance_words(station.up));
  };
  for (const KeptStation& kept : comparison.kept) {
    const auto &old = before.stations[kept.before], &now = after.stations[kept.after];
    table.rows.push_back({from_to(old.name, now.name), place(old), place(now),
                          length_text(scene, kept.moved, step::kPlace)});
  }
  for (const std::size_t s : comparison.removed)
    table.rows.push_back({before.stations[s].name, place(before.stations[s]), "removed", "-"});
  for (const std::size_t s : comparison.added)
    table.rows.push_back({after.stations[s].name, "added", place(after.stations[s]), "-"});
  if (!table.rows.empty()) out << "\nStations, each by its measuring centre\n";
  print(table, out);
}

void print_features(const Scene& scene, const CompareAnswer& answer, std::ostream& out) {
  const auto& [before, after, comparison] = answer;
  Table table{{{"feature"}, {"station"}, {"target"}, {"margin"}, {"uncertainty"}}, {}};
  const auto figure = [&](const RecordedFeature& old, const RecordedFeature& now,
                          const Told& told) {
    return from_to(figure_text(scene, old.*told.figure, told.step_mm),
                   figure_text(scene, now.*told.figure, told.step_mm));
  };
  for (const FeatureChange& change : comparison.changed) {
    const RecordedFeature &old = before.features[change.before],
                          &now = after.features[change.after];
    table.rows.push_back({now.name, from_to(first_station(before, old), first_station(after, now)),
                          from_to(old.target.value_or("none"), now.target.value_or("none")),
                          figure(old, now, kMargin), figure(old, now, kExpanded)});
  }
  if (!table.rows.empty()) out << "\nFeatures that are measured differently\n";
  print(table, out);
  const auto list = [&](const char* title, const std::vector<std::string>& names) {
    if (names.empty()) return;
    out << '\n' << title << '\n';
    for (const std::string& name : names) out << "  - " << for_terminal(name) << '\n';
  };
  list("Gained", noted(comparison.gained, after, comparison.only_after));
  list("Lost", noted(comparison.lost, before, comparison.only_before));
}

void print_ties(const CompareAnswer& answer, std::ostream& out) {
  const auto& [before, after, comparison] = answer;
  Table table{{{"tie"}, {"change"}, {"nests lost"}, {"nests gained"}}, {}};
  const auto joined = [](const std::vector<std::string>& names) {
    return fmt::format("{}", fmt::join(names, ", "));
  };
  for (const std::size_t link : comparison.lost_links)
    table.rows.push_back({link_name(before, link), "lost", joined(before.links[link].nests), ""});
  for (const std::size_t link : comparison.gained_links)
    table.rows.push_back({link_name(after, link), "new", "", joined(after.links[link].nests)});
  for (const LinkChange& change : comparison.changed_links)
    table.rows.push_back({from_to(link_name(before, change.before), link_name(after, change.after)),
                          "other nests", joined(change.lost), joined(change.gained)});
  if (!table.rows.empty()) out << "\nTies\n";
  print(table, out);
}

}  // namespace

void print_comparison(const CompareAnswer& answer, const std::string& from, const std::string& to,
                      std::ostream& out) {
  const Scene scene = units_of(answer.after);
  out << fmt::format("{}: from {} to {}\n", for_terminal(answer.after.scene), for_terminal(from),
                     for_terminal(to));
  print_notes(answer, out);
  Table table{{{fmt::format("({})", scene.units)},
               {"before", Align::right},
               {"after", Align::right},
               {"what changed"}},
              {}};
  table.rows = {measured_row(answer),
                target_row(answer),
                stations_row(scene, answer),
                moves_row(answer),
                figure_row(scene, answer, kMargin),
                figure_row(scene, answer, kExpanded),
                ties_row(answer)};
  print(table, out);
}

void print_comparison_details(const CompareAnswer& answer, std::ostream& out) {
  const Scene scene = units_of(answer.after);
  print_stations(scene, answer, out);
  print_features(scene, answer, out);
  print_ties(answer, out);
}

}  // namespace standpoint
