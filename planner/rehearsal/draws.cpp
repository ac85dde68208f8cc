#include "planner/rehearsal/draws.h"

#include <cmath>
#include <numbers>

#include <Eigen/Eigenvalues>

#include "geometry/logarithm.h"
#include "geometry/trigonometry.h"

namespace standpoint {

TrialDraws::TrialDraws(std::uint64_t seed, std::uint64_t stream, std::uint64_t trial) {
  const auto low = [](std::uint64_t v) { return static_cast<std::uint32_t>(v); };
  const auto high = [](std::uint64_t v) { return static_cast<std::uint32_t>(v >> 32U); };
  std::seed_seq words{low(seed), high(seed), low(stream), high(stream), low(trial), high(trial)};
  engine_.seed(words);
}

double TrialDraws::uniform() {
  return (static_cast<double>(engine_() >> 11U) + 0.5) * 0x1p-53;
}

double TrialDraws::normal() {
  if (has_spare_) {
    has_spare_ = false;
    return spare_;
  }
  const double radius = std::sqrt(-2 * logarithm(uniform()));
  const double angle = 2 * std::numbers::pi * uniform();
  spare_ = radius * sine(angle);
  has_spare_ = true;
  return radius * cosine(angle);
}

Vec3 TrialDraws::normal(const Mat3& root) {
  const double x = normal(), y = normal();
  return root * Vec3(x, y, normal());
}

Vec3 TrialDraws::direction() {
  const double x = normal(), y = normal();
  return Vec3(x, y, normal()).normalized();
}

Mat3 covariance_root(const Mat3& covariance) {
  const Eigen::SelfAdjointEigenSolver<Mat3> eigen(covariance);
  return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0).cwiseSqrt().asDiagonal();
}

}  // namespace standpoint
