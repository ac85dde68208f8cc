#include "planner/planning/provisional_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "planner/model/tolerances.h"
#include "planner/reach/split.h"

namespace standpoint {
namespace {

/// How a station would measure a feature: the better the smaller.
struct Bid {
  StationId station;
  Verdict verdict = Verdict::blocked;
  double expanded = std::numeric_limits<double>::infinity();
  double margin = 0;
  Vec3 at = Vec3::Zero();  ///< of the station

  /// What differs by rounding alone is the same: else the order of the scene's lists would decide.
  [[nodiscard]] bool is_before(const Bid& other) const {
    if (verdict != other.verdict) return verdict < other.verdict;  // full_target is the least
    const auto mine = static_cast<float>(expanded), theirs = static_cast<float>(other.expanded);
    if (mine != theirs) return mine < theirs;
    const double here = steps_of(margin), there = steps_of(other.margin);
    if (here != there) return here > there;
    if (at != other.at)
      return std::lexicographical_compare(at.begin(), at.end(), other.at.begin(), other.at.end());
    return station < other.station;
  }

 private:
  [[nodiscard]] static double steps_of(double margin) {
    return std::round(margin / tolerance::kSameMargin);
  }
};

const FeatureMark& mark_of(const Plan& plan, StationId station, FeatureId feature) {
  return plan.stations[station.index].sight.features[feature.index];
}

void lay_on(Plan& plan, FeatureId feature, StationId station) {
  PlannedFeature& planned = plan.features[feature.index];
  const FeatureMark& mark = mark_of(plan, station, feature);
  planned.verdict = mark.verdict;
  planned.station = station;
  planned.target = mark.target;
  planned.margin = mark.margin;
}

/// Lays the features of the alignment, and no others.
void lay_alignment(const Scene& scene, Plan& plan) {
  const std::size_t first = begins(plan.stations, plan.alignment.features);
  for (const FeatureId feature : plan.alignment.features) {
    std::vector<Bid> bids;
    for (std::size_t s = 0; s < plan.stations.size(); ++s) {
      const FeatureMark& mark = mark_of(plan, StationId(s), feature);
      if (mark.verdict == Verdict::blocked) continue;
      Bid& bid = bids.emplace_back();
      bid.station = StationId(s);
      bid.verdict = mark.verdict;
      bid.expanded = s == first ? 0 : 1;  // all else alike, where the crew begins
      bid.margin = mark.margin.value_or(0);
      bid.at = plan.stations[s].at;
    }
    if (bids.empty()) {
      lay_on_all(scene, plan, feature);
    } else {
      lay_on(plan, feature,
             std::min_element(bids.begin(), bids.end(), [](const Bid& a, const Bid& b) {
               return a.is_before(b);
             })->station);
    }
  }
}

/// A plan's features, none of them measured.
void lay_nothing(const Scene& scene, Plan& plan) {
  plan.features.assign(scene.features.size(), {});
  for (std::size_t f = 0; f < plan.features.size(); ++f) plan.features[f].feature = FeatureId(f);
}

/// What every station that reaches a feature bids for it. The network's poses do not depend on who
/// measures a feature, unless it is one of the alignment; so each station is tried with all that it
/// reaches. `alignment`: what holds the part's frame.
std::vector<std::vector<Bid>> collect_bids(const Scene& scene, Plan& plan,
                                           const std::vector<AlignmentTouch>& alignment) {
  std::vector<std::vector<Bid>> bids(scene.features.size());
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const StationId station(s);
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      plan.features[f] = {};
      plan.features[f].feature = FeatureId(f);
      if (mark_of(plan, station, FeatureId(f)).verdict != Verdict::blocked) {
        lay_on(plan, FeatureId(f), station);
      }
    }
    PlanNetwork network = plan_network(scene, plan);
    network.input.alignment = alignment;
    write_uncertainty(network, predict_uncertainty(scene, network), plan);
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      const PlannedFeature& planned = plan.features[f];
      if (!planned.station) continue;
      Bid& bid = bids[f].emplace_back();
      bid.station = station;
      bid.verdict = planned.verdict;
      bid.margin = planned.margin.value_or(0);
      bid.at = plan.stations[s].at;
      // Without a stated error the network's figures are those of the floor of its weights alone.
      if (planned.uncertainty && states_error(scene.instrument))
        bid.expanded = planned.uncertainty->expanded;
    }
  }
  return bids;
}

}  // namespace

void lay_on_all(const Scene& scene, Plan& plan, FeatureId feature) {
  std::vector<const FeatureMark*> marks;
  marks.reserve(plan.stations.size());
  for (std::size_t s = 0; s < plan.stations.size(); ++s)
    marks.push_back(&mark_of(plan, StationId(s), feature));
  std::optional<SharedMark> shared = mark_together(scene, feature, marks);
  if (!shared) return;
  PlannedFeature& planned = plan.features[feature.index];
  planned.verdict = shared->mark.verdict;
  planned.target = shared->mark.target;
  planned.margin = shared->mark.margin;
  for (const std::optional<std::size_t>& place : shared->taken_by)
    planned.touch_stations.push_back(place ? std::optional(StationId(*place)) : std::nullopt);
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const auto& taken = planned.touch_stations;
    if (std::find(taken.begin(), taken.end(), std::optional(StationId(s))) != taken.end())
      planned.stations.emplace_back(s);
  }
  planned.shared_mark = std::move(shared->mark);
}

std::size_t begins(const std::vector<PlannedStation>& stations,
                   const std::vector<FeatureId>& aligned) {
  const auto taken = [&](const PlannedStation& station) {
    std::pair<int, int> counts;  // by full target, in all
    for (const FeatureId feature : aligned) {
      const Verdict verdict = station.sight.features[feature.index].verdict;
      counts.first += verdict == Verdict::full_target;
      counts.second += verdict != Verdict::blocked;
    }
    return counts;
  };
  std::size_t best = 0;
  if (aligned.empty()) return best;
  for (std::size_t s = 1; s < stations.size(); ++s) {
    const auto mine = taken(stations[s]), most = taken(stations[best]);
    const Vec3 &here = stations[s].at, &there = stations[best].at;
    if (mine > most || (mine == most && std::lexicographical_compare(here.begin(), here.end(),
                                                                     there.begin(), there.end())))
      best = s;
  }
  return best;
}

ProvisionalPlan provisional_plan(const Scene& scene, std::vector<PlannedStation> stations) {
  const auto aligned = scene.alignment ? scene.alignment->features : std::vector<FeatureId>();
  return provisional_plan(scene, std::move(stations), aligned);
}

ProvisionalPlan provisional_plan(const Scene& scene, std::vector<PlannedStation> stations,
                                 const std::vector<FeatureId>& aligned) {
  ProvisionalPlan provisional;
  Plan& plan = provisional.plan;
  plan.stations = std::move(stations);
  plan.alignment.features = aligned;
  lay_nothing(scene, plan);
  if (!plan.stations.empty()) lay_alignment(scene, plan);
  const std::vector<PlannedFeature> holding = plan.features;
  auto bids = collect_bids(scene, plan, plan_network(scene, plan).input.alignment);
  lay_nothing(scene, plan);
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    std::sort(bids[f].begin(), bids[f].end(),
              [](const Bid& a, const Bid& b) { return a.is_before(b); });
    if (const auto held = holding[f].station) {  // the frame is laid already: by this one
      std::stable_partition(bids[f].begin(), bids[f].end(),
                            [&](const Bid& bid) { return bid.station == *held; });
    }
    if (bids[f].empty()) lay_on_all(scene, plan, FeatureId(f));
    const auto asked = static_cast<std::size_t>(scene.rules.stations_per_feature);
    for (std::size_t i = 0; i < std::min(asked, bids[f].size()); ++i) {
      if (i == 0) {
        lay_on(plan, FeatureId(f), bids[f][i].station);
      } else {
        plan.features[f].also_from.push_back(bids[f][i].station);
      }
    }
  }
  const PlanNetwork network = plan_network(scene, plan);
  provisional.uncertainty = predict_uncertainty(scene, network);
  write_uncertainty(network, provisional.uncertainty, plan);
  provisional.has_figures = states_error(scene.instrument);
  return provisional;
}

Quality quality_of(const ProvisionalPlan& provisional) {
  Quality quality{std::nullopt, std::numeric_limits<double>::infinity()};
  for (const PlannedFeature& feature : provisional.plan.features) {
    if (feature.uncertainty && provisional.has_figures) {
      quality.worst_expanded =
          std::max(quality.worst_expanded.value_or(0), feature.uncertainty->expanded);
    }
    if (is_measured(feature) && feature.margin) {
      quality.least_margin = std::min(quality.least_margin, *feature.margin);
    }
  }
  return quality;
}

bool is_better(const Quality& a, const Quality& b) {
  if (a.worst_expanded.has_value() != b.worst_expanded.has_value()) {
    return a.worst_expanded.has_value();
  }
  if (a.worst_expanded) {
    const double same =
        tolerance::kSameUncertainty * std::max(*a.worst_expanded, *b.worst_expanded);
    if (*a.worst_expanded < *b.worst_expanded - same) return true;
    if (*b.worst_expanded < *a.worst_expanded - same) return false;
  }
  return a.least_margin > b.least_margin;
}

}  // namespace standpoint
