#include "planner/network/least_uncertainty.h"

#include <algorithm>
#include <limits>
#include <utility>
#include <variant>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "planner/model/tolerances.h"
#include "planner/model/touch.h"
#include "planner/network/budget.h"
#include "planner/network/propagate.h"
#include "planner/network/touch_uncertainty.h"
#include "planner/reach/element.h"

namespace standpoint {
namespace {

/// The standard uncertainty of an observation at `distance` in the direction where it is least, mm.
double least_sigma(const InstrumentError& error, double distance) {
  const auto sigma = [&](const ErrorTerm& term) {
    return (term.fixed + term.per_mm * distance) / error.coverage_factor;
  };
  return std::min(sigma(error.transverse), sigma(error.radial));
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
      for (std::size_t t = scene.full_targets.size(); t < target_count(scene); ++t) {
        const Mat3 one = least_own(TargetId(t), place);
        least = std::min(least, one.selfadjointView<Eigen::Lower>().eigenvalues().minCoeff());
      }
      own = std::max(0.0, least) * Mat3::Identity();
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
  const double apart = rod.ball_distances[1] - rod.ball_distances[0];
  double variance = rod.error * rod.error;
  for (std::size_t i = 0; i < 2; ++i) {
    const double nearest = std::max(0.0, (place - at_).norm() - rod.ball_distances[i]);
    const double share = rod.ball_distances[1 - i] / apart * least_sigma(error, nearest);
    variance += share * share;
  }
  return variance * Mat3::Identity();
}

double LeastUncertainty::of_target(const Feature& feature, TargetId target) const {
  double least = std::numeric_limits<double>::infinity();
  for (const TouchSet& set : touch_sets(feature, touching_radius(*scene_, target), scene_->rules)) {
    std::vector<double> each;
    each.reserve(set.touches.size());
    for (const Touch& touch : set.touches) {
      if (touch.optical_centre == at_) return 0;
      each.push_back(point_uncertainty(carry_pose(pose_, at_, touch.optical_centre) +
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

double LeastUncertainty::of(const Feature& feature, Verdict verdict) const {
  if (!holds_) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (const TargetId target : all_targets(*scene_)) {
    if (is_full_target(*scene_, target) != (verdict == Verdict::full_target)) continue;
    if (!feature.targets.empty() &&
        std::find(feature.targets.begin(), feature.targets.end(), target) == feature.targets.end())
      continue;
    least = std::min(least, of_target(feature, target));
  }
  return std::isfinite(least) ? least * (1 - tolerance::kBoundSlack) : 0;
}

}  // namespace standpoint
