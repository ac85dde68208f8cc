#include "planner/network/alignment.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <variant>

#include <Eigen/Eigenvalues>

#include "geometry/vec.h"
#include "planner/model/tolerances.h"
#include "planner/model/touch.h"
#include "planner/network/plan_network.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

/// The touches of a feature by the first target that can take it; none where none can.
std::vector<AlignmentTouch> nominal_touches(const Scene& scene, const Feature& feature) {
  const std::vector<TargetId> all = all_targets(scene);
  for (const TargetId target : feature.targets.empty() ? all : feature.targets) {
    const std::vector<TouchSet> sets = touch_sets(scene, feature, target);
    if (sets.empty()) continue;
    std::vector<AlignmentTouch> touches;
    for (const Touch& touch : sets.front().touches) {
      AlignmentTouch& told = touches.emplace_back();
      told.place = touch.optical_centre;
      told.held = held_directions(feature, sets.front().way, touch.normal);
    }
    return touches;
  }
  return {};
}

double greatest_shift(const std::vector<AlignmentTouch>& touches, const Motion& motion) {
  double greatest = 0;
  for (const AlignmentTouch& touch : touches)
    greatest = std::max(greatest, shift_at(motion, touch.place).norm());
  return greatest;
}

double greatest_hold(const std::vector<AlignmentTouch>& touches, const Motion& motion) {
  double greatest = 0;
  for (const AlignmentTouch& touch : touches)
    for (const Vec3& held : touch.held)
      greatest = std::max(greatest, std::abs(held.dot(shift_at(motion, touch.place))));
  return greatest;
}

}  // namespace

std::vector<Vec3> held_directions(const Feature& feature, Way way, const Vec3& normal) {
  if (takes_whole_hole(way)) {
    const Vec3 across = any_perpendicular(normal);
    return {across, normal.cross(across)};
  }
  const auto* point = std::get_if<PointFeature>(&feature.shape);
  if (point != nullptr && point->holds_all) return {Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
  return {normal};
}

std::vector<AlignmentTouch> nominal_alignment(const Scene& scene,
                                              const std::vector<FeatureId>& features) {
  std::vector<AlignmentTouch> all;
  for (const FeatureId feature : features) {
    const auto touches = nominal_touches(scene, scene.features[feature.index]);
    all.insert(all.end(), touches.begin(), touches.end());
  }
  return all;
}

std::vector<Hold> features_that_hold(const Scene& scene, const Motion& motion,
                                     const std::vector<FeatureId>& besides, std::size_t count) {
  double size = 0;
  std::vector<Hold> holds;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    const auto touches = nominal_touches(scene, scene.features[f]);
    size = std::max(size, greatest_shift(touches, motion));
    if (std::find(besides.begin(), besides.end(), FeatureId(f)) != besides.end()) continue;
    holds.push_back({FeatureId(f), greatest_hold(touches, motion)});
  }
  for (Hold& hold : holds) hold.share = size > 0 ? hold.share / size : 0;
  std::erase_if(holds, [](const Hold& hold) { return hold.share < tolerance::kNoMotion; });
  std::stable_sort(holds.begin(), holds.end(),
                   [](const Hold& a, const Hold& b) { return a.share > b.share; });
  if (holds.size() > count) holds.resize(count);
  return holds;
}

std::vector<ExpectedResidual> expected_residuals(const Scene& scene, const Plan& plan) {
  const PlanNetwork network = plan_network(scene, plan);
  const std::vector<AlignmentTouch>& held = network.input.alignment;
  std::vector<ExpectedResidual> residuals;
  std::size_t next = 0;
  for (std::size_t i = 0; i < network.touches.size(); ++i) {
    const WatchedTouch& watched = network.touches[i];
    const auto& features = plan.alignment.features;
    if (std::find(features.begin(), features.end(), watched.feature) == features.end()) continue;
    const AlignmentTouch& touch = held[next++];
    const auto& pose = plan.stations[touch.station].pose_covariance;
    if (!pose) return {};
    const Mat3 form = network.input.form * network.input.form * Mat3::Identity();
    const Mat3 left = touch.covariance + form -
                      carry_pose(*pose, network.input.stations[touch.station], touch.place);
    Eigen::MatrixXd across(3, static_cast<Eigen::Index>(touch.held.size()));
    for (Eigen::Index k = 0; k < across.cols(); ++k)
      across.col(k) = touch.held[static_cast<std::size_t>(k)];
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(
        Eigen::MatrixXd(across.transpose() * left * across));
    const double most = std::max(0.0, eigen.eigenvalues()[across.cols() - 1]);
    residuals.push_back(
        {watched.feature, network.touch_index[i], StationId(touch.station), 2 * std::sqrt(most)});
  }
  const auto place_of = [&](FeatureId feature) {
    const auto& features = plan.alignment.features;
    return std::find(features.begin(), features.end(), feature) - features.begin();
  };
  std::stable_sort(residuals.begin(), residuals.end(),
                   [&](const ExpectedResidual& a, const ExpectedResidual& b) {
                     if (a.station != b.station) return a.station < b.station;
                     return place_of(a.feature) < place_of(b.feature);
                   });
  return residuals;
}

std::vector<StationId> aligning_stations(const Plan& plan) {
  std::vector<StationId> stations;
  for (const FeatureId feature : plan.alignment.features) {
    const PlannedFeature& planned = plan.features[feature.index];
    if (planned.station) stations.push_back(*planned.station);
    stations.insert(stations.end(), planned.stations.begin(), planned.stations.end());
  }
  std::sort(stations.begin(), stations.end());
  stations.erase(std::unique(stations.begin(), stations.end()), stations.end());
  return stations;
}

std::optional<LeastHeld> least_held(const Scene& scene, const Plan& plan) {
  const std::vector<StationId> stations = aligning_stations(plan);
  if (stations.empty()) return std::nullopt;
  const PlannedStation& station = plan.stations[stations.front().index];
  if (!station.pose_covariance) return std::nullopt;
  std::optional<LeastHeld> least;
  Vec3 place = Vec3::Zero();
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    for (const AlignmentTouch& touch : nominal_touches(scene, scene.features[f])) {
      const Mat3 carried = carry_pose(*station.pose_covariance, station.at, touch.place);
      const double expanded = point_uncertainty(carried).expanded;
      if (least && expanded <= least->expanded) continue;
      least.emplace();
      least->feature = FeatureId(f);
      least->expanded = expanded;
      place = touch.place;
    }
  }
  if (!least) return std::nullopt;
  // Of all motions of the frame the one that goes, on average, with a shift of this place.
  const Eigen::Matrix<double, 3, 6> shift = rigid_shift(place - station.at);
  const Vec3 direction =
      greatest_direction(carry_pose(*station.pose_covariance, station.at, place));
  const Vec6 motion = *station.pose_covariance * (shift.transpose() * direction);
  least->motion =
      as_screw(motion.head<3>(), motion.tail<3>(), station.at, (place - station.at).norm());
  least->motion.rise = 0;  // of a mean motion no more is told than about what it turns
  return least;
}

}  // namespace standpoint
