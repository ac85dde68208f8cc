#include "planner/network/least_uncertainty.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>
#include <variant>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "geometry/trigonometry.h"
#include "planner/model/tolerances.h"
#include "planner/model/touch.h"
#include "planner/network/budget.h"
#include "planner/network/propagate.h"
#include "planner/network/touch_uncertainty.h"
#include "planner/reach/element.h"

namespace standpoint {
namespace {

double variance_at(const ErrorTerm& term, double distance, double coverage_factor) {
  const double sigma = (term.fixed + term.per_mm * distance) / coverage_factor;
  return sigma * sigma;
}

/// In the direction where it is least.
double least_variance(const InstrumentError& error, double distance) {
  return std::min(variance_at(error.transverse, distance, error.coverage_factor),
                  variance_at(error.radial, distance, error.coverage_factor));
}

/// How near to the station a ball on a rod can be, its tip at `tip` from it: acceptance A makes
/// station, ball and tip a triangle with an angle of 90 - A or more at the ball.
double nearest_ball(const TwoBallStylus& rod, std::size_t ball, double tip) {
  const double d = rod.ball_distances[ball];
  if (!(tip > d)) return 0;
  const double off = std::min(rod.acceptance_rad, std::numbers::pi / 2);
  const double across = d * cosine(off);
  return std::max(0.0, std::sqrt(tip * tip - across * across) - d * sine(off));
}

/// No more than the covariance of an observation of a ball on a rod, however the rod is held: that
/// is a I - (a - r) c c^T, with the variances a across the beam and r along it and c the direction
/// to the ball. With b the direction to the tip, c is off it by an angle of sine s or less, the
/// share of the ball's distance from the tip in the tip's from the station. For v with the part x
/// along b and y across it (v.c)^2 <= (|x| + s |y|)^2 <= 2 x^2 + 2 s^2 y^2. Where r is the greater
/// the covariance is a I or more.
Mat3 least_of_ball(const InstrumentError& error, const TwoBallStylus& rod, std::size_t ball,
                   const Vec3& to_tip) {
  const double tip = to_tip.norm(), nearest = nearest_ball(rod, ball, tip);
  const double across = variance_at(error.transverse, nearest, error.coverage_factor);
  const double along = variance_at(error.radial, nearest, error.coverage_factor);
  const double turned = 2 * std::max(0.0, across - along);
  const double s = std::min(1.0, rod.ball_distances[ball] / tip);
  const Vec3 b = to_tip / tip;
  const Mat3 along_b = b * b.transpose();
  return across * Mat3::Identity() - turned * (along_b + s * s * (Mat3::Identity() - along_b));
}

/// What a ball's observation counts for in the place of the tip.
double weight_of_ball(const TwoBallStylus& rod, std::size_t ball) {
  const double share =
      rod.ball_distances[1 - ball] / (rod.ball_distances[1] - rod.ball_distances[0]);
  return share * share;
}

bool is_of_features(const Scene& scene) {
  return std::any_of(scene.datum.begin(), scene.datum.end(), [&](const std::string& name) {
    return std::none_of(scene.nests.begin(), scene.nests.end(),
                        [&](const Nest& nest) { return nest.name == name; });
  });
}

/// The least number of touches that can be enough.
std::size_t least_enough(const Feature& feature, const TouchSet& set) {
  const int least = feature.enough_touches && set.way != Way::rim ? *feature.enough_touches
                                                                  : least_touches(feature, set.way);
  return std::min(static_cast<std::size_t>(std::max(1, least)), set.touches.size());
}

}  // namespace

LeastUncertainty::LeastUncertainty(const Scene& scene, const Vec3& at,
                                   const std::vector<SeenNest>& nests)
    : scene_(&scene), at_(at), holds_(states_error(scene.instrument) && !is_of_features(scene)) {
  if (!holds_ || nests.empty() || scene.alignment) return;
  double scale = 0;  // rotations are kept in mm, so that one size fits all rows
  for (const SeenNest& seen : nests) scale += (scene.nests[seen.nest.index].at - at).norm();
  scale /= static_cast<double>(nests.size());
  if (!(scale > 0)) return;
  Mat6 information = Mat6::Zero();
  for (const SeenNest& seen : nests) {
    const Vec3& place = scene.nests[seen.nest.index].at;
    if (place == at) return;
    Mat3 own = Mat3::Constant(std::numeric_limits<double>::infinity());
    if (seen.verdict == Verdict::full_target) {
      own = observation_covariance(scene.instrument.error, at, place);
    } else {
      double least = std::numeric_limits<double>::infinity();
      for (const OffsetStylus& stylus : scene.offset_styli)
        least = std::min(least, least_variance_of(stylus, place));
      own = least * Mat3::Identity();
    }
    const Eigen::Matrix<double, 3, 6> shift = rigid_shift(place - at, scale);
    information +=
        shift.transpose() * weight_of(with_repeatability(own, scene.environment)) * shift;
  }
  const Eigen::SelfAdjointEigenSolver<Mat6> eigen(information);
  // What is hardly held is left out: the bound stays one, as if that motion were known.
  const double least = tolerance::kHingeRatio * eigen.eigenvalues().maxCoeff();
  Vec6 variance = Vec6::Zero();
  for (Eigen::Index i = 0; i < 6; ++i)
    if (eigen.eigenvalues()[i] > least) variance[i] = 1 / eigen.eigenvalues()[i];
  pose_ = eigen.eigenvectors() * variance.asDiagonal() * eigen.eigenvectors().transpose();
  pose_.bottomRows<3>() /= scale;
  pose_.rightCols<3>() /= scale;
}

/// The reading's covariance, or where it depends on how a rod is held, less than any of them.
Mat3 LeastUncertainty::least_own(TargetId target, const Vec3& place) const {
  const InstrumentError& error = scene_->instrument.error;
  if (is_full_target(*scene_, target)) return observation_covariance(error, at_, place);
  const OffsetStylus& stylus = offset_stylus(*scene_, target);
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus))
    return reading_covariance(error, at_, direct_reading(place, mirror->error));
  const auto& rod = std::get<TwoBallStylus>(stylus);
  Mat3 own = rod.error * rod.error * Mat3::Identity();
  for (std::size_t i = 0; i < 2; ++i)
    own += weight_of_ball(rod, i) * least_of_ball(error, rod, i, place - at_);
  return own;
}

/// The reading's least variance in any direction, by any way of holding a stylus.
double LeastUncertainty::least_variance_of(const OffsetStylus& stylus, const Vec3& place) const {
  const InstrumentError& error = scene_->instrument.error;
  const double distance = (place - at_).norm();
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus))
    return mirror->error * mirror->error + least_variance(error, distance);
  const auto& rod = std::get<TwoBallStylus>(stylus);
  double sum = rod.error * rod.error;
  for (std::size_t i = 0; i < 2; ++i)
    sum += weight_of_ball(rod, i) * least_variance(error, nearest_ball(rod, i, distance));
  return sum;
}

double LeastUncertainty::of_target(const Feature& feature, TargetId target,
                                   const Mat6& pose) const {
  double least = std::numeric_limits<double>::infinity();
  for (const TouchSet& set : touch_sets(feature, touching_radius(*scene_, target), scene_->rules)) {
    std::vector<double> each;
    each.reserve(set.touches.size());
    for (const Touch& touch : set.touches) {
      if (touch.optical_centre == at_) return 0;
      each.push_back(point_uncertainty(carry_pose(pose, at_, touch.optical_centre) +
                                       least_own(target, touch.optical_centre))
                         .expanded);
    }
    if (each.empty()) continue;
    const auto nth = each.begin() + static_cast<std::ptrdiff_t>(least_enough(feature, set) - 1);
    std::nth_element(each.begin(), nth, each.end());
    least = std::min(least, *nth);
  }
  return least;
}

double LeastUncertainty::of(const Feature& feature, Verdict verdict, TargetId first,
                            const Mat6& pose) const {
  if (!holds_) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (const TargetId target : all_targets(*scene_)) {
    if (target < first || is_full_target(*scene_, target) != (verdict == Verdict::full_target))
      continue;
    if (!feature.targets.empty() &&
        std::find(feature.targets.begin(), feature.targets.end(), target) == feature.targets.end())
      continue;
    least = std::min(least, of_target(feature, target, pose));
  }
  return std::isfinite(least) ? least * (1 - tolerance::kBoundSlack) : 0;
}

}  // namespace standpoint
