#include "planner/setup/part_fit.h"

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

/// Bounds what nonsense may cost; a fit takes some ten.
constexpr int kMostDamped = 60;
/// The weights hang on the pose by the directions alone: they settle at once.
constexpr int kMostWeighings = 4;
constexpr double kLeastDamping = 1e-12, kMostDamping = 1e12;

Mat3 turned_by(const Vec3& turn_rad) {
  const double angle = turn_rad.norm();
  if (angle == 0) return Mat3::Identity();
  const Vec3 imaginary = sine(angle / 2) / angle * turn_rad;
  return Eigen::Quaterniond(cosine(angle / 2), imaginary.x(), imaginary.y(), imaginary.z())
      .normalized()
      .toRotationMatrix();
}

class PartFitter {
 public:
  PartFitter(const PartFitInput& input, const Pose& start) : input_(input), pose_(start) {
    Vec3 sum = Vec3::Zero();
    double count = 0;
    for (std::size_t i = 0; i < input.rows.size(); ++i) {
      if (input.left_out[i]) continue;
      sum += input.rows[i].read;
      count += 1;
    }
    assert(count > 0);
    middle_ = sum / count;
    for (std::size_t i = 0; i < input.rows.size(); ++i)
      if (!input.left_out[i]) scale_ = std::max(scale_, (input.rows[i].read - middle_).norm());
    for (int i = 0; i < kMostWeighings; ++i) {
      weigh();
      if (settle() <= tolerance::kFitStep) break;
    }
    weigh();
  }

  [[nodiscard]] PartFit result() const {
    PartFit fit;
    fit.world_from_instrument = pose_;
    fit.centre = pose_ * middle_;
    fit.scale = scale_;
    Mat6 normal = Mat6::Zero();
    for (std::size_t i = 0; i < input_.rows.size(); ++i) {
      fit.rows.push_back(weighted(i, pose_));
      if (input_.left_out[i]) continue;
      fit.chi_square += fit.rows[i].left.squaredNorm();
      fit.observations += fit.rows[i].misfit.count;
      normal += fit.rows[i].by_motion.transpose() * fit.rows[i].by_motion;
    }
    fit.cofactor = normal.ldlt().solve(Mat6::Identity());
    // From the middle of the readings to the measuring centre, about which the rotation is to be.
    Mat6 carry = Mat6::Identity();
    carry.bottomRightCorner<3, 3>() /= scale_;
    carry.topRightCorner<3, 3>() = -cross_matrix(Vec3(pose_.translation() - fit.centre)) / scale_;
    fit.covariance = propagate(carry, fit.cofactor);
    return fit;
  }

 private:
  void weigh() {
    roots_.clear();
    for (const HeldRow& row : input_.rows) {
      const RowMisfit misfit = row_misfit(row, pose_ * row.read);
      roots_.push_back(row_covariance(row, misfit, pose_.linear()).llt().matrixL());
    }
  }

  [[nodiscard]] WeightedRow weighted(std::size_t i, const Pose& pose) const {
    const HeldRow& row = input_.rows[i];
    const Vec3 place = pose * row.read;
    WeightedRow told;
    told.misfit = row_misfit(row, place, input_.larger[i]);
    const auto root = roots_[i].triangularView<Eigen::Lower>();
    told.left = root.solve(told.misfit.off);
    told.by_motion =
        root.solve(told.misfit.held * rigid_shift(Vec3(place - pose * middle_), scale_));
    told.by_radius = root.solve(told.misfit.by_radius);
    told.root = roots_[i];
    return told;
  }

  [[nodiscard]] double square_sum(const Pose& pose) const {
    double sum = 0;
    for (std::size_t i = 0; i < input_.rows.size(); ++i) {
      if (input_.left_out[i]) continue;
      const HeldRow& row = input_.rows[i];
      const RowMisfit misfit = row_misfit(row, pose * row.read, input_.larger[i]);
      sum += Vec3(roots_[i].triangularView<Eigen::Lower>().solve(misfit.off)).squaredNorm();
    }
    return sum;
  }

  [[nodiscard]] Pose moved(const Vec6& step) const {
    Pose pose = Pose::Identity();
    const Mat3 turn = turned_by(step.tail<3>() / scale_);
    pose.linear() = turn * pose_.linear();
    pose.translation() = pose_ * middle_ + step.head<3>() - pose.linear() * middle_;
    return pose;
  }

  /// To the least sum with the weights as they are. Returns how far it went, mm.
  double settle() {
    double least = square_sum(pose_), damping = 1e-3, far = 0;
    for (int i = 0; i < kMostDamped; ++i) {
      Mat6 normal = Mat6::Zero();
      Vec6 right = Vec6::Zero();
      for (std::size_t k = 0; k < input_.rows.size(); ++k) {
        if (input_.left_out[k]) continue;
        const WeightedRow row = weighted(k, pose_);
        normal += row.by_motion.transpose() * row.by_motion;
        right -= row.by_motion.transpose() * row.left;
      }
      // A motion that nothing resists must not divide by nothing.
      const double floor = normal.diagonal().maxCoeff() * tolerance::kHingeRatio;
      bool is_better = false, is_settled = false;
      double step_length = 0;
      for (; !is_better && damping <= kMostDamping; damping *= 10) {
        Mat6 damped = normal;
        damped.diagonal() += damping * normal.diagonal() + Vec6::Constant(floor * damping);
        const Vec6 step = damped.ldlt().solve(right);
        step_length = step.head<3>().norm() + step.tail<3>().norm();
        const Pose trial = moved(step);
        const double sum = square_sum(trial);
        is_better = sum <= least * (1 + tolerance::kSumRounding);
        if (!is_better) {
          if (step_length <= tolerance::kFitStep) break;
          continue;
        }
        is_settled = sum >= least * (1 - tolerance::kSumRounding);
        least = std::min(least, sum);
        pose_ = trial;
        far += step_length;
      }
      // Of a gross misfit rounding alone is longer than the step that is asked.
      if (!is_better || is_settled || step_length <= tolerance::kFitStep) break;
      damping = std::max(kLeastDamping, damping / 100);
    }
    return far;
  }

  const PartFitInput& input_;
  Pose pose_;
  Vec3 middle_ = Vec3::Zero();  ///< of the readings, instrument's frame
  double scale_ = 1;
  std::vector<Mat3> roots_;  ///< lower, of each row's covariance
};

}  // namespace

PartFitInput as_told(std::vector<HeldRow> rows) {
  PartFitInput input;
  input.left_out.assign(rows.size(), false);
  input.larger.assign(rows.size(), 0);
  input.rows = std::move(rows);
  return input;
}

double shift_between(const Pose& from, const Pose& to, const Vec3& read) {
  return (to * read - from * read).norm();
}

PartFit fit_to_part(const PartFitInput& input, const Pose& start) {
  return PartFitter(input, start).result();
}

std::vector<AlignmentTouch> held_by(const PartFitInput& input, const PartFit& fit) {
  std::vector<AlignmentTouch> touches;
  for (std::size_t i = 0; i < input.rows.size(); ++i) {
    if (input.left_out[i]) continue;
    AlignmentTouch& touch = touches.emplace_back();
    touch.place = fit.world_from_instrument * input.rows[i].read;
    for (int k = 0; k < fit.rows[i].misfit.count; ++k)
      touch.held.push_back(fit.rows[i].misfit.held.row(k));
  }
  return touches;
}

}  // namespace standpoint
