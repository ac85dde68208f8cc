#include "planner/stations/open_cells.h"

#include <algorithm>
#include <variant>

#include <tbb/parallel_for.h>

#include "planner/reach/feature_reach.h"
#include "planner/reach/split.h"
#include "planner/reach/touch_mark.h"

namespace standpoint {
namespace {

bool is_rod(const Scene& scene, TargetId target) {
  return !is_full_target(scene, target) &&
         std::holds_alternative<TwoBallStylus>(offset_stylus(scene, target));
}

std::vector<TargetId> rods_of(const Scene& scene) {
  std::vector<TargetId> targets = all_targets(scene);
  std::erase_if(targets, [&](TargetId target) { return !is_rod(scene, target); });
  return targets;
}

}  // namespace

std::vector<TargetId> targets_but_rods(const Scene& scene) {
  std::vector<TargetId> targets = all_targets(scene);
  std::erase_if(targets, [&](TargetId target) { return is_rod(scene, target); });
  return targets;
}

std::optional<TargetId> first_rod_left(const Scene& scene, FeatureId feature) {
  const Feature& asked = scene.features[feature.index];
  if (is_split_allowed(scene, asked)) return std::nullopt;
  const std::vector<TargetId> allowed = asked.targets.empty() ? all_targets(scene) : asked.targets;
  std::optional<TargetId> first;
  bool is_any_other = false;
  for (const TargetId target : allowed) {
    if (!is_rod(scene, target)) {
      is_any_other = true;
    } else if (!first || target < *first) {
      first = target;
    }
  }
  return is_any_other ? first : std::nullopt;
}

void ask_open(const Cell& cell, const std::vector<Candidate>& candidates, Cells cells,
              const Watch& watch, ReachTable& table) {
  const std::vector<TargetId> rods = rods_of(cell.scene());
  // Each task writes cells of its own.
  tbb::parallel_for(std::size_t{0}, cells.size(), [&](std::size_t f) {
    const FeatureId feature(f);
    std::vector<CandidateId>& places = cells[f];
    std::erase_if(places, [&](CandidateId c) { return !table.is_open(c, feature); });
    if (places.empty() || watch.is_interrupted()) return;
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    std::vector<Stance> stances;
    stances.reserve(places.size());
    for (const CandidateId c : places) stances.push_back(stance_of(candidates[c.index]));
    const auto takers = FeatureReach(cell, feature, rods).takers(stances);
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (takers[i]) {
        table.set_feature(places[i], feature, verdict_by(cell.scene(), *takers[i]), *takers[i]);
      } else {
        table.set_feature(places[i], feature, Verdict::blocked);
      }
    }
  });
}

Cells rows_of(const ReachTable& table, const std::vector<FeatureId>& features) {
  Cells cells(table.feature_count());
  for (const FeatureId feature : features)
    for (std::size_t c = 0; c < table.candidate_count(); ++c) cells[feature.index].emplace_back(c);
  return cells;
}

Cells all_cells(const ReachTable& table) {
  std::vector<FeatureId> features;
  for (std::size_t f = 0; f < table.feature_count(); ++f) features.emplace_back(f);
  return rows_of(table, features);
}

}  // namespace standpoint
