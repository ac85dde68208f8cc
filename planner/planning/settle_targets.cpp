#include "planner/planning/settle_targets.h"

#include <algorithm>
#include <tuple>
#include <utility>
#include <vector>

#include "planner/reach/feature_reach.h"

namespace standpoint {
namespace {

/// So many neighbours say what is in use nearby.
constexpr std::size_t kNeighbours = 8;

/// A feature as its station measures it.
struct Measured {
  const FeatureMark* mark = nullptr;
  Vec3 at = Vec3::Zero();  ///< its first touch
};

std::vector<TargetId> choices(const FeatureMark& mark) {
  std::vector<TargetId> all = mark.alike;
  if (mark.target) all.push_back(*mark.target);
  return all;
}

std::vector<Measured> measured_from(const Plan& plan, StationId station) {
  std::vector<Measured> all;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.station != station) continue;
    const FeatureMark& mark = plan.stations[station.index].sight.features[planned.feature.index];
    all.push_back({&mark, mark.touches.empty() ? Vec3(Vec3::Zero()) : mark.touches.front().at});
  }
  return all;
}

/// Targets of the nearest features that leave no choice.
std::vector<TargetId> in_use_near(const Measured& one, std::vector<Measured> others) {
  std::erase_if(others, [](const Measured& other) { return !other.mark->alike.empty(); });
  std::stable_sort(others.begin(), others.end(), [&](const Measured& a, const Measured& b) {
    return (a.at - one.at).squaredNorm() < (b.at - one.at).squaredNorm();
  });
  std::vector<TargetId> targets;
  for (std::size_t i = 0; i < std::min(kNeighbours, others.size()); ++i)
    targets.push_back(*others[i].mark->target);
  return targets;
}

TargetId best_choice(const Scene& scene, const Measured& one, const std::vector<Measured>& all) {
  const std::vector<TargetId> near = in_use_near(one, all);
  const auto key = [&](TargetId target) {
    const auto used = std::count(near.begin(), near.end(), target);
    const auto takes = std::count_if(all.begin(), all.end(), [&](const Measured& other) {
      const std::vector<TargetId> possible = choices(*other.mark);
      return std::find(possible.begin(), possible.end(), target) != possible.end();
    });
    return std::tuple(-used, -takes, target_name(scene, target));
  };
  const std::vector<TargetId> possible = choices(*one.mark);
  return *std::min_element(possible.begin(), possible.end(),
                           [&](TargetId a, TargetId b) { return key(a) < key(b); });
}

}  // namespace

ProvisionalPlan settle_targets(const Cell& cell, ProvisionalPlan provisional) {
  std::vector<std::pair<StationId, FeatureMark>> changed;
  for (std::size_t s = 0; s < provisional.plan.stations.size(); ++s) {
    const StationId station(s);
    const std::vector<Measured> all = measured_from(provisional.plan, station);
    for (const Measured& one : all) {
      if (one.mark->alike.empty()) continue;
      const TargetId target = best_choice(cell.scene(), one, all);
      if (target == one.mark->target) continue;
      changed.emplace_back(
          station, FeatureReach(cell, one.mark->feature)
                       .mark(stance_of(provisional.plan.stations[s]), Causes::told, target));
    }
  }
  if (changed.empty()) return provisional;
  std::vector<PlannedStation> stations = std::move(provisional.plan.stations);
  for (auto& [station, mark] : changed) {
    FeatureMark& place = stations[station.index].sight.features[mark.feature.index];
    place = std::move(mark);
  }
  const PlannedAlignment alignment = provisional.plan.alignment;
  ProvisionalPlan settled = provisional_plan(cell.scene(), std::move(stations), alignment.features);
  settled.plan.alignment = alignment;
  return settled;
}

}  // namespace standpoint
