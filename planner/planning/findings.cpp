#include "planner/planning/findings.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "planner/reach/nearness.h"
#include "planner/reach/sight.h"
#include "planner/stations/tie_rule.h"

namespace standpoint {
namespace {

/// Whether any candidate reaches a feature, or all together do.
bool is_reachable(const ReachTable& table, FeatureId feature) {
  if (!table.parts(feature).ways.empty()) return true;
  for (std::size_t c = 0; c < table.candidate_count(); ++c) {
    if (table.feature(CandidateId(c), feature) != Verdict::blocked) return true;
  }
  return false;
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
    const int from = is_measured(planned) ? 1 + static_cast<int>(planned.also_from.size()) : 0;
    if (from >= found.scene.rules.stations_per_feature) continue;
    if (from > 0) {
      fewer.push_back(planned.feature);
    } else {
      (is_reachable(found.table, planned.feature) ? lost : unreached).push_back(planned.feature);
    }
  }
  add(warnings, WarningKind::fewer_than_asked, fewer);
  add(warnings, WarningKind::unreached, unreached);
  add(warnings, WarningKind::lost_to_ties, lost);
}

void add_line(const Scene& scene, const std::vector<NestId>& shared, Warning warning,
              std::vector<Warning>& warnings) {
  const auto line = nests_in_line(scene, shared);
  if (!line) return;
  warning.nests = shared;
  warning.ends = {line->first, line->last};
  warning.value = line->off_mm;
  warnings.push_back(std::move(warning));
}

std::vector<NestId> counting_nests(const Scene& scene, const Sight& sight) {
  std::vector<NestId> nests;
  for (const NestMark& nest : sight.nests)
    if (counts_for_ties(scene, nest.mark.verdict)) nests.push_back(nest.nest);
  return nests;
}

std::vector<NestId> in_both(const std::vector<NestId>& a, const std::vector<NestId>& b) {
  std::vector<NestId> both;
  std::set_intersection(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(both));
  return both;
}

/// A feature that is lost to ties for nests in one line: told once, of the first place and station.
void warn_of_lost_line(const Findings& found, FeatureId feature,
                       const std::vector<std::vector<NestId>>& of_station,
                       std::vector<Warning>& warnings) {
  for (std::size_t c = 0; c < found.table.candidate_count(); ++c) {
    if (found.table.feature(CandidateId(c), feature) == Verdict::blocked) continue;
    std::vector<NestId> nests;
    for (std::size_t n = 0; n < found.table.nest_count(); ++n)
      if (counts_for_ties(found.scene, found.table.nest(CandidateId(c), NestId(n))))
        nests.emplace_back(n);
    for (std::size_t s = 0; s < of_station.size(); ++s) {
      const std::size_t before = warnings.size();
      Warning warning{WarningKind::in_one_line, {feature}, {StationId(s)}};
      add_line(found.scene, in_both(nests, of_station[s]), std::move(warning), warnings);
      if (warnings.size() > before) return;
    }
  }
}

/// Where two stations share enough nests, all in one line.
void warn_of_lines(const Findings& found, const Plan& plan, std::vector<Warning>& warnings) {
  std::vector<std::vector<NestId>> of_station;
  for (const PlannedStation& station : plan.stations)
    of_station.push_back(counting_nests(found.scene, station.sight));
  // While nests are being chosen the table knows all sites, and features are lost for other
  // reasons.
  const bool is_of_table = found.table.nest_count() == found.scene.nests.size();
  for (const PlannedFeature& planned : plan.features) {
    if (is_of_table && !is_measured(planned) &&
        found.scene.features[planned.feature.index].required)
      warn_of_lost_line(found, planned.feature, of_station, warnings);
  }
  for (std::size_t a = 0; a < of_station.size(); ++a) {
    for (std::size_t b = a + 1; b < of_station.size(); ++b)
      add_line(found.scene, in_both(of_station[a], of_station[b]),
               {WarningKind::in_one_line, {}, {StationId(a), StationId(b)}}, warnings);
  }
}

void warn_of_stations(const Findings& found, std::vector<Warning>& warnings) {
  const auto station_of = [&](CandidateId c) {
    const auto at = std::find(found.chosen.begin(), found.chosen.end(), c);
    return StationId(static_cast<std::size_t>(at - found.chosen.begin()));
  };
  Warning collides{WarningKind::kept_collides};
  for (const CandidateId c : found.candidates.kept_but_colliding) {
    collides.stations.push_back(station_of(c));
  }
  if (!collides.stations.empty()) warnings.push_back(collides);
  Warning kept_out{WarningKind::kept_in_keep_out};
  for (const CandidateId c : found.candidates.kept_but_kept_out)
    kept_out.stations.push_back(station_of(c));
  if (!kept_out.stations.empty()) warnings.push_back(kept_out);
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
    if (is_measured(planned) && planned.margin &&
        *planned.margin < found.scene.rules.tight_margin) {
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
  if (found.figures == Figures::untied || found.figures == Figures::deficient ||
      found.figures == Figures::unaligned) {
    warnings.push_back({WarningKind::no_uncertainty});
  }
}

}  // namespace

std::vector<Unreached> find_unreached(const Cell& cell, const Plan& plan,
                                      const std::vector<Candidate>& candidates) {
  std::vector<Unreached> result;
  for (const PlannedFeature& planned : plan.features) {
    if (is_measured(planned)) continue;
    Unreached unreached{planned.feature, {}, std::nullopt};
    for (const PlannedStation& station : plan.stations) {
      const FeatureMark& mark = station.sight.features[planned.feature.index];
      if (unreached.at && !is_nearer(nearness_of(mark), nearness_of(unreached.mark))) continue;
      unreached.mark = mark;
      unreached.at = station.at;
      unreached.up = station.up;
    }
    if (!unreached.at && !candidates.empty()) {
      unreached.at = candidates.front().at;
      unreached.up = candidates.front().up;
      unreached.mark = judge_feature(cell, stance_of(candidates.front()), planned.feature);
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
  warn_of_lines(found, plan, warnings);
  warn_of_stations(found, warnings);
  warn_of_figures(found, plan, warnings);
  if (found.cover.status == CoverStatus::feasible) warnings.push_back({WarningKind::time_limit});
  return warnings;
}

}  // namespace standpoint
