#include "planner/network/element_uncertainty.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include <Eigen/Dense>

#include "planner/network/plan_network.h"
#include "planner/network/propagate.h"
#include "planner/reach/element.h"

namespace standpoint {
namespace {

/// The touches of one feature that are taken, with their normals, in the network's order.
struct TakenTouches {
  std::vector<WatchedTouch> watched;
  TouchSet set;
};

/// Twice the greatest standard deviation of the fitted surface at the taken touches; nothing where
/// they do not fix the element.
std::optional<double> fitted_expanded(const Adjustment& adjustment, const Feature& feature,
                                      const TakenTouches& taken) {
  const Eigen::MatrixXd rows = element_rows(feature, taken.set);
  if (rows.cols() == 0 || rows.rows() < rows.cols()) return std::nullopt;
  const Eigen::MatrixXd all = joint_covariance(adjustment, taken.watched);
  Eigen::MatrixXd normals = Eigen::MatrixXd::Zero(rows.rows(), all.cols());
  for (Eigen::Index i = 0; i < rows.rows(); ++i)
    normals.block<1, 3>(i, 3 * i) = taken.set.touches[static_cast<std::size_t>(i)].normal;
  // The fitted surface at the touches is a projection of what was read there.
  const Eigen::MatrixXd hat =
      rows * rows.completeOrthogonalDecomposition().pseudoInverse() * normals;
  return 2 * std::sqrt(std::max(0.0, (hat * all * hat.transpose()).diagonal().maxCoeff()));
}

}  // namespace

Eigen::MatrixXd joint_covariance(const Adjustment& adjustment,
                                 const std::vector<WatchedTouch>& touches) {
  const auto size = static_cast<Eigen::Index>(3 * touches.size());
  Eigen::MatrixXd joint = Eigen::MatrixXd::Zero(size, size);
  const std::vector<Vec3>& stations = adjustment.input().stations;
  for (std::size_t i = 0; i < touches.size(); ++i) {
    for (std::size_t j = 0; j < touches.size(); ++j) {
      const WatchedTouch &a = touches[i], &b = touches[j];
      Mat3 block = rigid_shift(a.reading.place - stations[a.station]) *
                   adjustment.pose_covariance_between(a.station, b.station) *
                   rigid_shift(b.reading.place - stations[b.station]).transpose();
      if (i == j) block += a.own;
      joint.block<3, 3>(static_cast<Eigen::Index>(3 * i), static_cast<Eigen::Index>(3 * j)) = block;
    }
  }
  return joint;
}

std::vector<ElementUncertainty> shared_element_uncertainties(const Scene& scene, const Plan& plan) {
  std::vector<ElementUncertainty> result;
  const bool has_shared =
      std::any_of(plan.features.begin(), plan.features.end(),
                  [](const PlannedFeature& planned) { return !planned.stations.empty(); });
  if (!has_shared || !states_error(scene.instrument) || scene.nests.empty()) return result;
  const PlanNetwork network = plan_network(scene, plan);
  const AdjustmentResult adjusted = adjust(network.input);
  if (!adjusted.adjustment) return result;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.stations.empty()) continue;
    TakenTouches taken{{}, {planned.shared_mark->way, {}}};
    bool is_in_datum = false;
    for (std::size_t i = 0; i < network.touches.size(); ++i) {
      if (network.touches[i].feature != planned.feature) continue;
      const TouchMark& touch = planned.shared_mark->touches[network.touch_index[i]];
      taken.watched.push_back(network.touches[i]);
      taken.set.touches.push_back({touch.at, touch.normal, touch.optical_centre});
      is_in_datum = is_in_datum || network.touches[i].datum_touch;
    }
    if (is_in_datum || taken.watched.empty()) continue;
    const auto expanded =
        fitted_expanded(*adjusted.adjustment, scene.features[planned.feature.index], taken);
    if (expanded) result.push_back({planned.feature, *expanded});
  }
  return result;
}

}  // namespace standpoint
