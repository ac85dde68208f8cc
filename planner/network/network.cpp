#include "planner/network/network.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "planner/model/tolerances.h"
#include "planner/network/adjustment.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

double variance(const ErrorTerm& term, double distance, double coverage_factor) {
  const double sigma = (term.fixed + term.per_mm * distance) / coverage_factor;
  return sigma * sigma;
}

}  // namespace

Mat3 observation_covariance(const InstrumentError& error, const Vec3& station, const Vec3& target) {
  const Vec3 sight = target - station;
  const double distance = sight.norm();
  assert(distance > 0);
  const Vec3 beam = sight / distance;
  const double across = variance(error.transverse, distance, error.coverage_factor);
  const double along = variance(error.radial, distance, error.coverage_factor);
  return across * Mat3::Identity() + (along - across) * beam * beam.transpose();
}

Mat3 floored(const Mat3& covariance) {
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(covariance);
  const Vec3 variances =
      eigen.eigenvalues().cwiseMax(tolerance::kLeastSigma * tolerance::kLeastSigma);
  return eigen.eigenvectors() * variances.asDiagonal() * eigen.eigenvectors().transpose();
}

Mat3 weight_of(const Mat3& covariance) {
  const double floor = tolerance::kLeastSigma * tolerance::kLeastSigma;
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(covariance);
  const Vec3 precision = eigen.eigenvalues().cwiseMax(floor).cwiseInverse();
  return eigen.eigenvectors() * precision.asDiagonal() * eigen.eigenvectors().transpose();
}

Mat3 alignment_weight(const AlignmentTouch& touch, double form) {
  const auto count = static_cast<Eigen::Index>(touch.held.size());
  Eigen::Matrix<double, 3, Eigen::Dynamic, 0, 3, 3> held(3, count);
  for (Eigen::Index i = 0; i < count; ++i) held.col(i) = touch.held[static_cast<std::size_t>(i)];
  using Square = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, 3, 3>;
  const Square spread = held.transpose() * floored(touch.covariance) * held +
                        form * form * Square::Identity(count, count);
  const Mat3 weight = held * spread.inverse() * held.transpose();
  return 0.5 * (weight + weight.transpose());
}

NetworkResult solve_network(const NetworkInput& input) {
  AdjustmentResult result = adjust(input);
  if (!result.adjustment)
    return {std::nullopt, std::move(result.deficient), std::move(result.free)};
  return {result.adjustment->covariances(), {}, {}};
}

Mat3 carry_pose(const Mat6& pose_covariance, const Vec3& station, const Vec3& point) {
  return propagate(rigid_shift(point - station), pose_covariance);
}

Vec3 greatest_direction(const Mat3& covariance) {
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(covariance);
  Vec3 direction = eigen.eigenvectors().col(2);
  Eigen::Index greatest = 0;
  direction.cwiseAbs().maxCoeff(&greatest);
  if (direction[greatest] < 0) direction = -direction;
  return direction;
}

PointUncertainty point_uncertainty(const Mat3& covariance) {
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(covariance, Eigen::EigenvaluesOnly);
  return {covariance, 2 * std::sqrt(std::max(0.0, eigen.eigenvalues()[2]))};
}

}  // namespace standpoint
