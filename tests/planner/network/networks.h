#pragma once

#include <cmath>
#include <vector>

#include <Eigen/Dense>

#include "planner/network/network.h"
#include "tests/draw.h"

// Networks for the tests, and the instrument's model written once more from first principles:
// nothing in here calls the code under test.

namespace standpoint::testing {

/// An invented instrument.
inline InstrumentError example_error() {
  return {2, {0.014, 0.0075e-3}, {0.012, 0.0009e-3}};
}

/// Range, azimuth and elevation of a point given in the station's frame.
template <class T>
Eigen::Matrix<T, 3, 1> polar(const Eigen::Matrix<T, 3, 1>& p) {
  using std::atan2;
  using std::sqrt;
  const T flat = sqrt(p[0] * p[0] + p[1] * p[1]);
  return {sqrt(flat * flat + p[2] * p[2]), atan2(p[1], p[0]), atan2(p[2], flat)};
}

inline Vec3 from_polar(const Vec3& rae) {
  return rae[0] * Vec3(std::cos(rae[2]) * std::cos(rae[1]), std::cos(rae[2]) * std::sin(rae[1]),
                       std::sin(rae[2]));
}

/// Standard uncertainties of range, azimuth and elevation of a point in the station's frame.
inline Vec3 polar_sigma(const InstrumentError& error, const Vec3& local) {
  const double range = local.norm();
  const double along = (error.radial.fixed + error.radial.per_mm * range) / error.coverage_factor;
  const double across =
      (error.transverse.fixed + error.transverse.per_mm * range) / error.coverage_factor;
  return {along, across / std::hypot(local[0], local[1]), across / range};
}

/// The rotation by the vector w (rad).
inline Mat3 turn(const Vec3& w) {
  const double angle = w.norm();
  return angle > 0 ? Eigen::AngleAxisd(angle, w / angle).toRotationMatrix() : Mat3::Identity();
}

/// Where a point is in the frame of a station at `station` that has moved by `pose` (translation,
/// rotation vector).
inline Vec3 seen(const Vec3& station, const Vec6& pose, const Vec3& point) {
  return turn(pose.tail<3>()).transpose() * (point - station - pose.head<3>());
}

/// Covariance of an observed place by the Jacobian of polar coordinates, differences taken.
inline Mat3 polar_covariance(const InstrumentError& error, const Vec3& station, const Vec3& point) {
  const Vec3 rae = polar<double>(point - station);
  const Vec3 sigma = polar_sigma(error, point - station);
  Mat3 jacobian;
  for (int k = 0; k < 3; ++k) {
    const double step = 1e-6 * (k == 0 ? rae[0] : 1);
    Vec3 less = rae, more = rae;
    less[k] -= step;
    more[k] += step;
    jacobian.col(k) = (from_polar(more) - from_polar(less)) / (2 * step);
  }
  return jacobian * sigma.cwiseAbs2().asDiagonal() * jacobian.transpose();
}

/// `stations` round a part with `nests`; each station sees the first four nests, so that all is
/// well tied, and each other nest with probability `density`; every nest is seen by one station at
/// least.
inline NetworkInput random_network(std::uint64_t seed, std::size_t stations, std::size_t nests,
                                   double density = 0.7) {
  test::Draw draw(seed);
  NetworkInput input;
  for (std::size_t i = 0; i < stations; ++i)
    input.stations.push_back(draw.in_box({-6000, -6000, 800}, {6000, 6000, 2200}));
  for (std::size_t i = 0; i < nests; ++i)
    input.nests.push_back(draw.in_box({-3000, -2000, 0}, {3000, 2000, 2500}));
  for (std::uint32_t s = 0; s < stations; ++s)
    for (std::uint32_t n = 0; n < nests; ++n)
      if (n < 4 || n % stations == s || draw.chance(density))
        input.observations.push_back(
            {s, n, polar_covariance(example_error(), input.stations[s], input.nests[n])});
  return input;
}

/// Relative difference of two matrices in the Frobenius norm.
template <class A, class B>
double relative_difference(const A& a, const B& b) {
  return (a - b).norm() / b.norm();
}

/// A pose covariance with rotations times `length`, so that one norm measures both parts.
inline Mat6 in_mm(const Mat6& pose, double length = 3000) {
  Vec6 unit = Vec6::Ones();
  unit.tail<3>() *= length;
  return unit.asDiagonal() * pose * unit.asDiagonal();
}

}  // namespace standpoint::testing
