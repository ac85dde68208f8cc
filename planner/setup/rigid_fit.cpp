#include "planner/setup/rigid_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>
#include <cassert>
#include <cmath>

#include "geometry/trigonometry.h"
#include "planner/model/tolerances.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

/// Nobody needs so many: near the answer a step squares the error. Bounds what nonsense may cost.
constexpr int kMostSteps = 200;
constexpr int kMostHalvings = 40;

Vec3 mean(const std::vector<FitPoint>& points, Vec3 FitPoint::*place) {
  Vec3 sum = Vec3::Zero();
  for (const FitPoint& point : points) sum += point.*place;
  return sum / static_cast<double>(points.size());
}

/// Turns by `angle_rad` about the unit vector `axis`. (Eigen's own would ask the C library for
/// sines.)
Eigen::Quaterniond turn_by(double angle_rad, const Vec3& axis) {
  const Vec3 imaginary = sine(angle_rad / 2) * axis;
  return {cosine(angle_rad / 2), imaginary.x(), imaginary.y(), imaginary.z()};
}

/// The fit about the two centroids: numbers as small as the points lie apart, and a translation
/// that the rotation does not drown where the instrument stands far off.
class Fitter {
 public:
  explicit Fitter(const std::vector<FitPoint>& points)
      : world_centre_(mean(points, &FitPoint::in_world)),
        instrument_centre_(mean(points, &FitPoint::in_instrument)) {
    for (const FitPoint& point : points) {
      known_.push_back(point.in_world - world_centre_);
      seen_.push_back(point.in_instrument - instrument_centre_);
      weights_.push_back(point.covariance.inverse());
      spread_ = std::max(spread_, known_.back().norm());
    }
    assert(spread_ > 0);
    start();
    settle();
  }

  [[nodiscard]] RigidFit result() const {
    RigidFit fit;
    fit.world_from_instrument.linear() = turn_;
    fit.world_from_instrument.translation() = world_centre_ + shift_ - turn_ * instrument_centre_;
    for (std::size_t i = 0; i < known_.size(); ++i) {
      fit.residuals.push_back(residual(i, turn_, shift_));
      const Vec3 own = turn_.transpose() * fit.residuals.back();
      fit.normalised.push_back(std::sqrt(std::max(0.0, own.dot(weights_[i] * own))));
    }
    fit.chi_square = square_sum(turn_, shift_);
    // From the nests' centroid to the measuring centre, about which the rotation is to be.
    Mat6 carry = Mat6::Identity();
    carry.topRightCorner<3, 3>() = cross_matrix(turn_ * instrument_centre_);
    const Mat6 about_centroid = normal().first.ldlt().solve(Mat6::Identity());
    Mat6 unscaled = about_centroid;
    unscaled.rightCols<3>() /= spread_;
    unscaled.bottomRows<3>() /= spread_;
    fit.covariance = propagate(carry, unscaled);
    return fit;
  }

 private:
  void start() {
    Eigen::Matrix3Xd from(3, static_cast<Eigen::Index>(seen_.size())), to = from;
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      from.col(static_cast<Eigen::Index>(i)) = seen_[i];
      to.col(static_cast<Eigen::Index>(i)) = known_[i];
    }
    turn_ = Eigen::umeyama(from, to, false).topLeftCorner<3, 3>();
  }

  [[nodiscard]] Vec3 residual(std::size_t i, const Mat3& turn, const Vec3& shift) const {
    return turn * seen_[i] + shift - known_[i];
  }

  [[nodiscard]] double square_sum(const Mat3& turn, const Vec3& shift) const {
    double sum = 0;
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      const Vec3 own = turn.transpose() * residual(i, turn, shift);
      sum += own.dot(weights_[i] * own);
    }
    return sum;
  }

  /// Normal matrix and right side; rotations about the centroid in rad times `spread_`. The lever
  /// is the known place, not the observed one: a residual is weighted in the instrument's frame,
  /// and R^T r changes with a turn w as R^T (w x (R y - r)).
  [[nodiscard]] std::pair<Mat6, Vec6> normal() const {
    Mat6 matrix = Mat6::Zero();
    Vec6 right = Vec6::Zero();
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      const auto shift = rigid_shift(Vec3(known_[i] - shift_), spread_);
      const Mat3 weight = turn_ * weights_[i] * turn_.transpose();
      matrix += shift.transpose() * weight * shift;
      right -= shift.transpose() * weight * residual(i, turn_, shift_);
    }
    return {matrix, right};
  }

  void settle() {
    double least = square_sum(turn_, shift_);
    for (int i = 0; i < kMostSteps; ++i) {
      const auto [matrix, right] = normal();
      Vec6 step = matrix.ldlt().solve(right);
      bool is_better = false;
      for (int halving = 0; halving < kMostHalvings && !is_better; ++halving, step /= 2) {
        const Vec3 turn = step.tail<3>() / spread_;
        const double angle = turn.norm();
        Mat3 turned = turn_;
        if (angle > 0)
          turned = (turn_by(angle, turn / angle) * Eigen::Quaterniond(turn_))
                       .normalized()
                       .toRotationMatrix();
        // `rigid_shift` turns about the fitted centroid, so the shift is not turned along.
        const Vec3 shifted = shift_ + step.head<3>();
        const double sum = square_sum(turned, shifted);
        is_better = sum <= least * (1 + tolerance::kSumRounding);
        const bool is_settled =
            step.head<3>().norm() + step.tail<3>().norm() <= tolerance::kFitStep;
        if (is_better || is_settled) {
          least = std::min(least, sum);
          turn_ = turned;
          shift_ = shifted;
        }
        if (is_settled) return;
      }
      if (!is_better) return;
    }
  }

  Vec3 world_centre_, instrument_centre_;
  std::vector<Vec3> known_, seen_;  ///< about their centroids
  std::vector<Mat3> weights_;       ///< in the instrument's frame
  double spread_ = 0;               ///< greatest distance of a known place from its centroid, mm
  Mat3 turn_ = Mat3::Identity();
  Vec3 shift_ = Vec3::Zero();
};

}  // namespace

Similarity best_similarity(const Eigen::MatrixXd& from, const Eigen::MatrixXd& to) {
  assert(from.rows() == to.rows() && from.cols() == to.cols() && from.cols() >= 2);
  const Eigen::Index d = from.rows();
  const Eigen::MatrixXd found = Eigen::umeyama(from, to, true);
  Similarity best;
  best.scale = found.topLeftCorner(d, d).col(0).norm();
  best.rotation = found.topLeftCorner(d, d) / best.scale;
  best.translation = found.topRightCorner(d, 1);
  const Eigen::MatrixXd left =
      to - ((found.topLeftCorner(d, d) * from).colwise() + best.translation);
  best.mean_square = left.squaredNorm() / static_cast<double>(from.cols());
  return best;
}

RigidFit fit_rigidly(const std::vector<FitPoint>& points) {
  assert(points.size() >= 3);
  return Fitter(points).result();
}

}  // namespace standpoint
