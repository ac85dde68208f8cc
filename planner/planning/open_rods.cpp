#include "planner/planning/open_rods.h"

#include <algorithm>
#include <utility>

#include "planner/planning/equal_sets.h"
#include "planner/planning/station_cover.h"

namespace standpoint {

/// A table with open cells allows more than there is. A choice that is best in it, and that covers
/// as much once its own cells are asked for, is best in the whole table: what is covered can only
/// get less, and full targets are known.
CoverSolution OpenRods::solve() {
  std::vector<SharedParts> parts;  // solving may add to them what only that choice may rest on
  for (std::size_t f = 0; f < table_.feature_count(); ++f)
    parts.push_back(table_.parts(FeatureId(f)));
  for (;;) {
    CoverSolution cover =
        solve_stations(asked_.cell, asked_.candidates, asked_.ties, asked_.watch, table_);
    if (asked_.watch.is_interrupted() || !is_any_open()) return cover;
    const std::vector<CandidateId> chosen(cover.columns.begin(), cover.columns.end());
    const std::vector<FeatureId> lost = lost_when_asked(chosen);
    if (lost.empty() || asked_.watch.is_interrupted()) return cover;
    if (cover.status == CoverStatus::optimal) {
      ask(rows_of(table_, lost));
    } else {
      ask_all();
    }
    for (std::size_t f = 0; f < parts.size(); ++f) table_.set_parts(FeatureId(f), parts[f]);
  }
}

/// Asks for the open cells that the choice covers features by; the features that it covers less
/// often than it seemed.
std::vector<FeatureId> OpenRods::lost_when_asked(const std::vector<CandidateId>& chosen) {
  const int asked = asked_.cell.scene().rules.stations_per_feature;
  std::vector<int> before;
  Cells cells(table_.feature_count());
  for (std::size_t f = 0; f < cells.size(); ++f) {
    const FeatureId feature(f);
    before.push_back(std::min(asked, times_taken(chosen, feature)));
    if (!asked_.cell.scene().features[f].required) continue;
    int surely = 0;
    for (const CandidateId c : chosen)
      surely += table_.feature(c, feature) != Verdict::blocked && !table_.is_open(c, feature);
    if (surely < asked) cells[f] = chosen;
  }
  ask(std::move(cells));
  std::vector<FeatureId> lost;
  for (std::size_t f = 0; f < before.size(); ++f) {
    if (std::min(asked, times_taken(chosen, FeatureId(f))) < before[f]) lost.emplace_back(f);
  }
  return lost;
}

void OpenRods::ask_for_equal_sets(
    std::vector<CandidateId> chosen,
    const std::function<bool(const std::vector<CandidateId>&)>& is_tied) {
  if (!is_any_open() || chosen.empty()) return;
  std::sort(chosen.begin(), chosen.end());
  const Scene& scene = asked_.cell.scene();
  const EqualSets equal =
      equal_sets({scene, asked_.candidates, table_, is_tied}, chosen, kEqualSetLimit);
  if (!equal.is_all) return ask_all();
  Cells cells(table_.feature_count());
  for (const std::vector<CandidateId>& set : equal.sets) {
    for (std::size_t f = 0; f < cells.size(); ++f) {
      const FeatureId feature(f);
      bool is_full = false;
      int surely = 0;
      for (const CandidateId c : set) {
        is_full = is_full || table_.feature(c, feature) == Verdict::full_target;
        surely += table_.feature(c, feature) != Verdict::blocked && !table_.is_open(c, feature);
      }
      if (is_full && surely >= scene.rules.stations_per_feature) continue;
      for (const CandidateId c : set)
        if (table_.is_open(c, feature)) cells[f].push_back(c);
    }
  }
  ask(std::move(cells));
}

void OpenRods::ask_for_unreached(const std::vector<CandidateId>& chosen) {
  const Scene& scene = asked_.cell.scene();
  std::vector<FeatureId> unreached;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    if (scene.features[f].required &&
        times_taken(chosen, FeatureId(f)) < scene.rules.stations_per_feature)
      unreached.emplace_back(f);
  }
  ask(rows_of(table_, unreached));
}

void OpenRods::ask_all() {
  ask(all_cells(table_));
}

bool OpenRods::is_any_open() const {
  for (std::size_t c = 0; c < table_.candidate_count(); ++c)
    for (std::size_t f = 0; f < table_.feature_count(); ++f)
      if (table_.is_open(CandidateId(c), FeatureId(f))) return true;
  return false;
}

int OpenRods::times_taken(const std::vector<CandidateId>& set, FeatureId feature) const {
  return static_cast<int>(std::count_if(set.begin(), set.end(), [&](CandidateId c) {
    return table_.feature(c, feature) != Verdict::blocked;
  }));
}

}  // namespace standpoint
