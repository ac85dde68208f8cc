#include "planner/rehearsal/residual_tests.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <set>

#include <tbb/parallel_for.h>
#include <Eigen/Eigenvalues>

#include "planner/model/tolerances.h"
#include "planner/network/chi_square.h"

namespace standpoint {
namespace {

/// The part of `shift` along the directions that the touch holds.
Vec3 along_held(const AlignmentTouch& touch, const Vec3& shift) {
  Vec3 sum = Vec3::Zero();
  for (const Vec3& held : touch.held) sum += held.dot(shift) * held;
  return sum;
}

/// The covariance of a touch of the alignment along the directions that it holds, none across them.
Mat3 covariance_along(const AlignmentTouch& touch, double form) {
  Mat3 across = Mat3::Zero();
  for (const Vec3& held : touch.held) across += held * held.transpose();
  return across * (floored(touch.covariance) + form * form * Mat3::Identity()) * across;
}

}  // namespace

ResidualTests::ResidualTests(const Adjustment& adjustment, double global_level, double local_level)
    : adjustment_(&adjustment) {
  const NetworkInput& input = adjustment.input();
  assert(input.datum_touches.empty());
  const std::size_t sights = input.observations.size();
  const std::size_t count = sights + input.alignment.size();
  std::set<std::uint32_t> nests;
  for (const NestObservation& o : input.observations) nests.insert(o.nest);
  std::size_t equations = 3 * sights;
  for (const AlignmentTouch& touch : input.alignment) equations += touch.held.size();
  degrees_of_freedom_ = static_cast<int>(equations) - static_cast<int>(6 * input.stations.size()) -
                        static_cast<int>(3 * nests.size()) + (input.alignment.empty() ? 6 : 0);
  if (degrees_of_freedom_ > 0)
    global_limit_ = chi_square_quantile(degrees_of_freedom_, 1 - global_level);
  std::array<double, 4> limit{};
  for (int rank = 1; rank <= 3; ++rank)
    limit[static_cast<std::size_t>(rank)] = chi_square_quantile(rank, 1 - local_level);

  weights_.resize(count);
  inverses_.assign(count, Mat3::Zero());
  ranks_.assign(count, 0);
  limits_.assign(count, 0);
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) {
    const bool is_sight = i < sights;
    const Mat3 own = is_sight ? floored(input.observations[i].covariance)
                              : covariance_along(input.alignment[i - sights], input.form);
    weights_[i] =
        is_sight ? own.inverse() : alignment_weight(input.alignment[i - sights], input.form);
    // The residual's answer to its own observation: R_ii; its covariance is R_ii C_i (R C is the
    // covariance of all residuals, for least squares with weights C^-1).
    Mat3 answer;
    for (int axis = 0; axis < 3; ++axis) {
      std::vector<Vec3> shifts(count, Vec3::Zero());
      shifts[i] = Vec3::Unit(axis);
      answer.col(axis) = residuals(shifts, adjustment_->respond(shifts))[i];
    }
    const Mat3 product = answer * own;
    const Eigen::SelfAdjointEigenSolver<Mat3> eigen(0.5 * (product + product.transpose()));
    const double least = tolerance::kHeldFast * own.trace();
    for (int k = 0; k < 3; ++k) {
      if (!(eigen.eigenvalues()[k] > least)) continue;
      const Vec3 direction = eigen.eigenvectors().col(k);
      inverses_[i] += direction * direction.transpose() / eigen.eigenvalues()[k];
      ++ranks_[i];
    }
    limits_[i] = limit[static_cast<std::size_t>(ranks_[i])];
  });
}

std::vector<Vec3> ResidualTests::residuals(const std::vector<Vec3>& shifts,
                                           const Response& response) const {
  const NetworkInput& input = adjustment_->input();
  std::vector<Vec3> left(shifts.size());
  const std::size_t sights = input.observations.size();
  for (std::size_t i = 0; i < input.alignment.size(); ++i) {
    const AlignmentTouch& touch = input.alignment[i];
    const Vec6& pose = response.poses[touch.station];
    const Vec3 lever = touch.place - input.stations[touch.station];
    left[sights + i] =
        along_held(touch, shifts[sights + i] + pose.head<3>() + pose.tail<3>().cross(lever));
  }
  for (std::size_t i = 0; i < sights; ++i) {
    const NestObservation& o = input.observations[i];
    const Vec6& pose = response.poses[o.station];
    const Vec3 lever = input.nests[o.nest] - input.stations[o.station];
    // y - N = x - B s (docs/uncertainty.md).
    const Vec3 modelled = response.nests[o.nest] - pose.head<3>() - pose.tail<3>().cross(lever);
    left[i] = shifts[i] - modelled;
  }
  return left;
}

double ResidualTests::square_sum(const std::vector<Vec3>& residuals) const {
  double sum = 0;
  for (std::size_t i = 0; i < residuals.size(); ++i)
    sum += residuals[i].dot(weights_[i] * residuals[i]);
  return sum;
}

ResidualVerdict ResidualTests::judge(const std::vector<Vec3>& residuals) const {
  ResidualVerdict verdict;
  verdict.is_global_flagged = degrees_of_freedom_ > 0 && square_sum(residuals) > global_limit_;
  double greatest = 1;
  for (std::size_t i = 0; i < residuals.size(); ++i) {
    if (ranks_[i] == 0) continue;
    const double share = residuals[i].dot(inverses_[i] * residuals[i]) / limits_[i];
    if (share <= greatest) continue;
    greatest = share;
    verdict.is_local_flagged = true;
    const auto& sights = adjustment_->input().observations;
    verdict.nest.reset();
    if (i < sights.size()) verdict.nest = sights[i].nest;
  }
  return verdict;
}

}  // namespace standpoint
