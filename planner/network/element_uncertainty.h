#pragma once

#include <vector>

#include "planner/network/adjustment.h"
#include "planner/network/what_if.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// How well the element is known that is fitted to touches from several stations.

/// The joint covariance of touches that several stations read, mm^2: three rows a touch, in their
/// order. Two touches of one station have its pose in common; those of two stations are correlated
/// as the stations' poses are. The readings' own errors are independent. Precondition: none of the
/// touches is a datum touch. O(touches^2).
[[nodiscard]] Eigen::MatrixXd joint_covariance(const Adjustment& adjustment,
                                               const std::vector<WatchedTouch>& touches);

/// Of a feature that several stations share.
struct ElementUncertainty {
  FeatureId feature;
  /// Twice the standard deviation of the fitted surface along its normal, at the touch that is
  /// taken where it is greatest. mm.
  double expanded = 0;
};

/// For each feature of the plan that several stations share, ascending: how well the element is
/// known that is fitted to its touches by least squares without weights, in the network's datum.
/// First order (JCGM 102:2011, 6.2.1.3): the fit's parameters are linear in the touches' errors
/// along their normals. Without what `scene.environment` adds. Nothing where there is no network,
/// and for features on which the datum is laid. Pure. O(network + touches^2).
[[nodiscard]] std::vector<ElementUncertainty> shared_element_uncertainties(const Scene& scene,
                                                                           const Plan& plan);

}  // namespace standpoint
