#include "planner/planning/findings.h"

#include <algorithm>
#include <utility>

#include "planner/reach/nearness.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

/// How many candidates reach a feature.
int reach_count(const ReachTable& table, FeatureId feature) {
  int count = 0;
  for (std::size_t c = 0; c < table.candidate_count(); ++c) {
    count += table.feature(CandidateId(c), feature) != Verdict::blocked;
  }
  return count;
}

void add(std::vector<Warning>& warnings, WarningKind kind, std::vector<FeatureId> features) {
  if (features.empty()) return;
  const auto count = static_cast<double>(features.size());
  warnings.push_back({kind, std::move(features), {}, {}, count});
}

void warn_of_coverage(const Findings& found, const Plan& plan, std::vector<Warning>& warnings) {
  std::vector<FeatureId> fewer, unreached, lost;
  for (const PlannedFeature& planned : plan.features) {
    if (!found.scene.features[planned.feature.index].required) continue;
    const int from = planned.station ? 1 + static_cast<int>(planned.also_from.size()) : 0;
    if (from >= found.scene.rules.stations_per_feature) continue;
    const int possible = reach_count(found.table, planned.feature);
    if (from > 0) {
      fewer.push_back(planned.feature);
    } else {
      (possible == 0 ? unreached : lost).push_back(planned.feature);
    }
  }
  add(warnings, WarningKind::fewer_than_asked, fewer);
  add(warnings, WarningKind::unreached, unreached);
  add(warnings, WarningKind::lost_to_ties, lost);
}

void warn_of_stations(const Findings& found, std::vector<Warning>& warnings) {
  const auto station_of = [&](CandidateId c) {
    const auto at = std::lower_bound(found.chosen.begin(), found.chosen.end(), c);
    return StationId(static_cast<std::size_t>(at - found.chosen.begin()));
  };
  Warning collides{WarningKind::kept_collides};
  for (const CandidateId c : found.candidates.kept_but_colliding) {
    collides.stations.push_back(station_of(c));
  }
  if (!collides.stations.empty()) warnings.push_back(collides);
  if (!found.cover.keep_tied) {
    Warning untied{WarningKind::kept_not_tied};
    for (const CandidateId c : found.chosen) {
      if (found.candidates.kept[c.index].keep) untied.stations.push_back(station_of(c));
    }
    warnings.push_back(untied);
  }
}

void warn_of_figures(const Findings& found, const Plan& plan, std::vector<Warning>& warnings) {
  std::vector<FeatureId> tight;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.station && planned.margin && *planned.margin < found.scene.rules.tight_margin) {
      tight.push_back(planned.feature);
    }
  }
  if (!tight.empty()) {
    warnings.push_back({WarningKind::tight, tight, {}, {}, found.scene.rules.tight_margin});
  }
  constexpr double kLeastRatio = 4;  // contract section 6; common practice
  for (const PlannedFeature& planned : plan.features) {
    const auto& tolerance = found.scene.features[planned.feature.index].tolerance;
    if (!tolerance || !planned.uncertainty || planned.uncertainty->expanded <= 0) continue;
    const double ratio = *tolerance / (2 * planned.uncertainty->expanded);
    if (ratio < kLeastRatio) {
      warnings.push_back({WarningKind::ratio, {planned.feature}, {}, {}, ratio});
    }
  }
  if (found.figures == Figures::untied || found.figures == Figures::deficient) {
    warnings.push_back({WarningKind::no_uncertainty});
  }
}

}  // namespace

std::vector<Unreached> find_unreached(const Cell& cell, const Plan& plan,
                                      const std::vector<Candidate>& candidates) {
  std::vector<Unreached> result;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.station) continue;
    Unreached unreached{planned.feature, {}, std::nullopt};
    for (const PlannedStation& station : plan.stations) {
      const FeatureMark& mark = station.sight.features[planned.feature.index];
      if (unreached.at && !is_nearer(nearness_of(mark), nearness_of(unreached.mark))) continue;
      unreached.mark = mark;
      unreached.at = station.at;
    }
    if (!unreached.at && !candidates.empty()) {
      unreached.at = candidates.front().at;
      unreached.mark = mark_feature(cell, *unreached.at, planned.feature);
    }
    if (unreached.at) result.push_back(std::move(unreached));
  }
  return result;
}

std::vector<Warning> find_warnings(const Findings& found, const Plan& plan) {
  std::vector<Warning> warnings;
  if (plan.stations.size() > 1 && found.scene.nests.empty()) {
    warnings.push_back({WarningKind::no_nests});
  }
  warn_of_coverage(found, plan, warnings);
  warn_of_stations(found, warnings);
  warn_of_figures(found, plan, warnings);
  if (found.cover.status == CoverStatus::feasible) warnings.push_back({WarningKind::time_limit});
  return warnings;
}

}  // namespace standpoint
