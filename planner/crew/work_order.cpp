#include "planner/crew/work_order.h"

#include <algorithm>
#include <functional>
#include <limits>
#include <map>

namespace standpoint {
namespace {

/// One stage of one station: its turns, of which the order is still to be chosen.
struct TargetStage {
  std::size_t station = 0;
  std::vector<TargetTurn> turns;  ///< targets ascending
};

/// How a stage may begin and end, and what it costs up to there.
struct Ending {
  std::size_t changes = std::numeric_limits<std::size_t>::max();
  std::size_t first = 0;   ///< turn that begins the stage
  std::size_t before = 0;  ///< turn that ends the stage before
};

std::vector<TargetTurn> nest_turns(const PlannedStation& station, WorkStage stage) {
  std::map<TargetId, TargetTurn> by_target;
  for (const NestId nest : station.nests) {
    const auto& best = station.sight.nests[nest.index].mark.best;
    if (!best) continue;
    by_target[best->target].nests.push_back(nest);
  }
  std::vector<TargetTurn> turns;
  for (auto& [target, turn] : by_target) {
    turn.stage = stage;
    turn.target = target;
    turns.push_back(std::move(turn));
  }
  return turns;
}

std::vector<TargetTurn> feature_turns(const Plan& plan, StationId station, WorkStage stage,
                                      const std::function<bool(TargetId)>& is_wanted) {
  std::map<TargetId, TargetTurn> by_target;
  const std::vector<FeatureId>& aligned = plan.alignment.features;
  for (const PlannedFeature& planned : plan.features) {
    if (!is_measured_from(planned, station)) continue;
    const bool is_aligned =
        std::find(aligned.begin(), aligned.end(), planned.feature) != aligned.end();
    if (is_aligned != (stage == WorkStage::alignment)) continue;
    const auto& target = mark_at(plan, planned, station).target;
    if (!target || !is_wanted(*target)) continue;
    by_target[*target].features.push_back(planned.feature);
  }
  std::vector<TargetTurn> turns;
  for (auto& [target, turn] : by_target) {
    turn.stage = stage;
    turn.target = target;
    turns.push_back(std::move(turn));
  }
  return turns;
}

std::vector<TargetStage> stages_of(const Scene& scene, const Plan& plan) {
  std::vector<TargetStage> stages;
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const PlannedStation& station = plan.stations[s];
    const auto add = [&](std::vector<TargetTurn> turns) {
      if (!turns.empty()) stages.push_back({s, std::move(turns)});
    };
    const auto is_full = [&](TargetId target) { return is_full_target(scene, target); };
    const auto is_stylus = [&](TargetId target) { return !is_full_target(scene, target); };
    const auto is_any = [](TargetId) { return true; };
    add(feature_turns(plan, StationId(s), WorkStage::alignment, is_any));
    add(nest_turns(station, WorkStage::nests_first));
    add(feature_turns(plan, StationId(s), WorkStage::features, is_full));
    add(feature_turns(plan, StationId(s), WorkStage::features, is_stylus));
    add(nest_turns(station, WorkStage::nests_again));
  }
  return stages;
}

/// For each turn that may end the stage: its fewest changes up to the stage's beginning. (Within a
/// stage every order has as many: one less than its turns.)
std::vector<Ending> endings(const TargetStage& stage, const TargetStage* before,
                            const std::vector<Ending>& before_endings) {
  const std::size_t count = stage.turns.size();
  std::vector<Ending> result(count);
  for (std::size_t last = 0; last < count; ++last) {
    for (std::size_t first = 0; first < count; ++first) {
      if (count > 1 && first == last) continue;
      if (before == nullptr) {
        if (result[last].changes > 0) result[last] = {0, first, 0};
        continue;
      }
      for (std::size_t b = 0; b < before->turns.size(); ++b) {
        const std::size_t changes = before_endings[b].changes +
                                    (before->turns[b].target == stage.turns[first].target ? 0 : 1);
        if (changes < result[last].changes) result[last] = {changes, first, b};
      }
    }
  }
  return result;
}

/// The turns with `first` first, `last` last, and the others between as they are.
std::vector<TargetTurn> ordered(const TargetStage& stage, std::size_t first, std::size_t last) {
  std::vector<TargetTurn> turns{stage.turns[first]};
  for (std::size_t t = 0; t < stage.turns.size(); ++t) {
    if (t != first && t != last) turns.push_back(stage.turns[t]);
  }
  if (last != first) turns.push_back(stage.turns[last]);
  return turns;
}

}  // namespace

std::vector<StationWork> order_work(const Scene& scene, const Plan& plan) {
  std::vector<TargetStage> stages = stages_of(scene, plan);
  std::vector<std::vector<Ending>> table;
  table.reserve(stages.size());
  for (std::size_t i = 0; i < stages.size(); ++i) {
    table.push_back(endings(stages[i], i == 0 ? nullptr : &stages[i - 1],
                            i == 0 ? std::vector<Ending>{} : table[i - 1]));
  }
  std::size_t last = 0;
  if (!table.empty()) {
    const auto fewest =
        std::min_element(table.back().begin(), table.back().end(),
                         [](const Ending& a, const Ending& b) { return a.changes < b.changes; });
    last = static_cast<std::size_t>(fewest - table.back().begin());
  }
  for (std::size_t i = stages.size(); i-- > 0;) {
    const Ending ending = table[i][last];
    stages[i].turns = ordered(stages[i], ending.first, last);
    last = ending.before;
  }
  std::vector<StationWork> work(plan.stations.size());
  std::optional<TargetId> in_hand;
  for (TargetStage& stage : stages) {
    for (TargetTurn& turn : stage.turns) {
      turn.before = in_hand;
      in_hand = turn.target;
      work[stage.station].turns.push_back(std::move(turn));
    }
  }
  return work;
}

std::size_t count_changes(const std::vector<StationWork>& work) {
  std::size_t changes = 0;
  for (const StationWork& station : work) {
    for (const TargetTurn& turn : station.turns) changes += turn.is_change() ? 1 : 0;
  }
  return changes;
}

bool is_measured_from(const PlannedFeature& planned, StationId station) {
  return is_told_at(planned, station) ||
         std::count(planned.also_from.begin(), planned.also_from.end(), station) > 0;
}

bool is_told_at(const PlannedFeature& planned, StationId station) {
  return planned.station == station ||
         std::count(planned.stations.begin(), planned.stations.end(), station) > 0;
}

const FeatureMark& mark_at(const Plan& plan, const PlannedFeature& planned, StationId station) {
  if (planned.shared_mark) return *planned.shared_mark;
  return plan.stations[station.index].sight.features[planned.feature.index];
}

bool is_taken_from(const PlannedFeature& planned, StationId station, std::size_t touch) {
  return planned.stations.empty() || planned.touch_stations[touch] == station;
}

FeatureMark mark_from(const Plan& plan, const PlannedFeature& planned, StationId station) {
  FeatureMark mark = mark_at(plan, planned, station);
  if (planned.stations.empty()) return mark;
  mark.margin.reset();
  for (std::size_t t = 0; t < mark.by_target.size(); ++t) {
    if (!is_taken_from(planned, station, t)) mark.by_target[t].reset();
    if (!mark.by_target[t]) continue;
    const double margin = mark.by_target[t]->margin;
    mark.margin = std::min(mark.margin.value_or(margin), margin);
  }
  return mark;
}

}  // namespace standpoint
