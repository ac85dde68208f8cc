#pragma once

#include <vector>

#include <Eigen/Core>

#include "geometry/vec.h"
#include "planner/network/network.h"

namespace standpoint {

/// to = scale * rotation * from + translation, as nearly as can be.
struct Similarity {
  double scale = 1;
  Eigen::MatrixXd rotation;     ///< d x d, determinant +1
  Eigen::VectorXd translation;  ///< unit of `to`
  double mean_square = 0;       ///< of what is left at each point, unit of `to`, squared
};

/// The least-squares similarity of two point sets, one point a column, in d dimensions; never a
/// reflection. S. Umeyama, IEEE TPAMI 13(4) (1991) 376-380, eqs. 40-42, as Eigen has it.
/// Preconditions: the same shape, at least two columns, the columns of `from` not all the same.
/// Where the points do not fix the rotation it is one of the best. Pure. O(points).
[[nodiscard]] Similarity best_similarity(const Eigen::MatrixXd& from, const Eigen::MatrixXd& to);

/// A place that is known in the world and was observed by the instrument. mm.
struct FitPoint {
  Vec3 in_world = Vec3::Zero();
  Vec3 in_instrument = Vec3::Zero();
  Mat3 covariance = Mat3::Identity();  ///< of `in_instrument`, instrument's frame, mm^2
};

struct RigidFit {
  Pose world_from_instrument = Pose::Identity();
  /// Observed less known place of each point, world frame, mm.
  std::vector<Vec3> residuals;
  /// Root of each residual's square weighted with its observation's covariance, without unit: the
  /// squares of all add up to `chi_square`.
  std::vector<double> normalised;
  double chi_square = 0;
  /// Of the pose: translation (mm) first, then rotation (rad) about the measuring centre, which is
  /// the origin of the instrument's frame; world frame.
  Mat6 covariance = Mat6::Zero();
};

/// The weighted best rigid fit: the pose with the least sum of squared residuals, each weighted
/// with its observation's covariance. Starts from the unweighted closed form (`best_similarity`
/// held at scale 1) and iterates Gauss and Newton's way until no point moves by more than
/// `tolerance::kFitStep`; a step that does not lessen the sum is halved. Derived in
/// docs/measured.md. Covariances are symmetric and positive definite. Precondition: at least three
/// points whose places in the world are not in one line. Pure. O(points) a step.
[[nodiscard]] RigidFit fit_rigidly(const std::vector<FitPoint>& points);

}  // namespace standpoint
