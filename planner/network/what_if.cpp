#include "planner/network/what_if.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cassert>
#include <map>
#include <utility>

namespace standpoint {
namespace {

Mat3 covariance_of(const Network& network, const NetworkInput& input, const WatchedTouch& touch) {
  if (touch.datum_touch) return network.datum_touch_covariance[*touch.datum_touch];
  return touch_covariance(network.pose_covariance[touch.station], input.stations[touch.station],
                          touch.reading, touch.own);
}

/// `before` and after are both by feature, ascending, of the same features.
WhatIf outcome_of(const NetworkInput& input, const std::vector<WatchedTouch>& touches,
                  const std::vector<FeatureUncertainty>& before) {
  WhatIf outcome;
  NetworkResult result = solve_network(input);
  if (!result.network) {
    outcome.deficient = std::move(result.deficient);
    return outcome;
  }
  const std::vector<FeatureUncertainty> after =
      feature_uncertainties(*result.network, input, touches);
  for (std::size_t i = 0; i < after.size(); ++i) {
    if (!outcome.worst || after[i].expanded > outcome.worst->expanded) outcome.worst = after[i];
    const double ratio = before[i].expanded > 0 ? after[i].expanded / before[i].expanded : 1;
    // The change counts by its factor, whichever way it goes.
    const auto size = [](double r) { return std::max(r, r > 0 ? 1 / r : 1); };
    if (outcome.most_changed && size(ratio) <= size(outcome.ratio)) continue;
    outcome.most_changed = after[i];
    outcome.ratio = ratio;
  }
  return outcome;
}

/// Solves `count` changed networks, each made by `change(i)`.
template <class Change>
std::vector<WhatIf> outcomes(const NetworkInput& input, const std::vector<WatchedTouch>& touches,
                             std::size_t count, const Change& change) {
  const NetworkResult now = solve_network(input);
  assert(now.network);
  const std::vector<FeatureUncertainty> before =
      feature_uncertainties(*now.network, input, touches);
  std::vector<WhatIf> result(count);
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, 1), [&](const auto& range) {
    for (std::size_t i = range.begin(); i != range.end(); ++i)
      result[i] = outcome_of(change(i), touches, before);
  });
  return result;
}

NetworkInput without_nest(const NetworkInput& input, std::uint32_t nest) {
  NetworkInput rest = input;
  std::erase_if(rest.observations, [&](const NestObservation& o) { return o.nest == nest; });
  return rest;
}

NetworkInput with_addition(const NetworkInput& input, const Addition& addition) {
  NetworkInput more = input;
  more.stations.insert(more.stations.end(), addition.stations.begin(), addition.stations.end());
  more.nests.insert(more.nests.end(), addition.nests.begin(), addition.nests.end());
  more.observations.insert(more.observations.end(), addition.observations.begin(),
                           addition.observations.end());
  return more;
}

/// The centroid of the nests that each station sees; its own place where it sees none.
std::vector<Vec3> centroids(const NetworkInput& input) {
  std::vector<Vec3> sums(input.stations.size(), Vec3::Zero());
  std::vector<double> counts(input.stations.size(), 0);
  for (const NestObservation& o : input.observations) {
    sums[o.station] += input.nests[o.nest];
    counts[o.station] += 1;
  }
  for (std::size_t i = 0; i < sums.size(); ++i)
    sums[i] = counts[i] > 0 ? Vec3(sums[i] / counts[i]) : input.stations[i];
  return sums;
}

WorstContributor take_apart(const Network& network, const NetworkInput& input,
                            const InstrumentError& error, const WatchedTouch& touch,
                            const Vec3& centroid) {
  WorstContributor contributor;
  const Mat3 total = covariance_of(network, input, touch);
  contributor.direction = greatest_direction(total);
  const auto along = [&](const Mat3& m) {
    return contributor.direction.dot(m * contributor.direction);
  };
  const Vec3& station = input.stations[touch.station];
  const Mat6& pose = network.pose_covariance[touch.station];
  const double whole = along(carry_pose(pose, station, touch.reading.place));
  const double tie = std::min(whole, along(carry_pose(pose, station, centroid)));
  const double own = along(touch.own);
  const double range =
      std::min(own, along(observation_covariance(error, station, touch.reading.place)));
  const double sum = whole + own;
  if (sum > 0)
    contributor.shares = {range / sum, (own - range) / sum, tie / sum, (whole - tie) / sum};
  const auto greatest = std::max_element(contributor.shares.begin(), contributor.shares.end());
  contributor.reason = static_cast<Reason>(greatest - contributor.shares.begin());
  return contributor;
}

}  // namespace

std::vector<FeatureUncertainty> feature_uncertainties(const Network& network,
                                                      const NetworkInput& input,
                                                      const std::vector<WatchedTouch>& touches) {
  std::map<FeatureId, FeatureUncertainty> worst;
  for (std::size_t i = 0; i < touches.size(); ++i) {
    const double expanded = point_uncertainty(covariance_of(network, input, touches[i])).expanded;
    const FeatureUncertainty entry{touches[i].feature, i, expanded};
    const auto [place, is_new] = worst.try_emplace(touches[i].feature, entry);
    if (!is_new && expanded > place->second.expanded) place->second = entry;
  }
  std::vector<FeatureUncertainty> features;
  features.reserve(worst.size());
  for (const auto& [feature, entry] : worst) features.push_back(entry);
  return features;
}

std::vector<WhatIf> leave_one_out(const NetworkInput& input,
                                  const std::vector<WatchedTouch>& touches) {
  return outcomes(input, touches, input.nests.size(), [&](std::size_t i) {
    return without_nest(input, static_cast<std::uint32_t>(i));
  });
}

std::vector<WhatIf> with_each(const NetworkInput& input, const std::vector<WatchedTouch>& touches,
                              const std::vector<Addition>& additions) {
  return outcomes(input, touches, additions.size(),
                  [&](std::size_t i) { return with_addition(input, additions[i]); });
}

std::vector<WorstContributor> worst_features(const Network& network, const NetworkInput& input,
                                             const InstrumentError& error,
                                             const std::vector<WatchedTouch>& touches,
                                             std::size_t count) {
  std::vector<FeatureUncertainty> features = feature_uncertainties(network, input, touches);
  std::stable_sort(features.begin(), features.end(),
                   [](const auto& a, const auto& b) { return a.expanded > b.expanded; });
  features.resize(std::min(count, features.size()));
  const std::vector<Vec3> centres = centroids(input);
  std::vector<WorstContributor> result;
  for (const FeatureUncertainty& feature : features) {
    const WatchedTouch& touch = touches[feature.touch];
    result.push_back(take_apart(network, input, error, touch, centres[touch.station]));
    result.back().uncertainty = feature;
  }
  return result;
}

}  // namespace standpoint
