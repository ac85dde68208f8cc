#pragma once

#include <Eigen/Core>
#include <cstddef>

#include "geometry/vec.h"

namespace standpoint {

/// The law of propagation of uncertainty: the covariance J C J^T of y = f(x), where J = df/dx (rows
/// y, columns x) at the estimates and C is the covariance of x (JCGM 100:2008, 5.2.2 eq. 13, in the
/// matrix form of JCGM 102:2011, 6.2.1.3). First order: exact for a linear f. Pure.
/// The result is made symmetric to the last bit, whatever the rounding.
template <class Jacobian, class Covariance>
[[nodiscard]] auto propagate(const Eigen::MatrixBase<Jacobian>& jacobian,
                             const Eigen::MatrixBase<Covariance>& covariance) {
  using Result = Eigen::Matrix<double, Jacobian::RowsAtCompileTime, Jacobian::RowsAtCompileTime>;
  const Result product = jacobian * covariance * jacobian.transpose();
  return Result(0.5 * (product + product.transpose()));
}

/// The matrix [a]x with [a]x b = a x b.
[[nodiscard]] inline Mat3 cross_matrix(const Vec3& a) {
  Mat3 m;
  m << 0, -a.z(), a.y(), a.z(), 0, -a.x(), -a.y(), a.x(), 0;
  return m;
}

/// Where the six unknowns of a station, or rows for them, begin in a vector or matrix of all
/// stations.
[[nodiscard]] inline Eigen::Index first_row(std::size_t station) {
  return static_cast<Eigen::Index>(6 * station);
}

/// How a point at `lever` from the centre of a small rigid motion (translation, then rotation in
/// rad times `scale`, mm) is shifted: [I | -[lever]x / scale]. `scale` (mm, > 0) lets rotations and
/// translations be compared; 1 leaves rotations in rad. Derived in docs/uncertainty.md.
[[nodiscard]] inline Eigen::Matrix<double, 3, 6> rigid_shift(const Vec3& lever, double scale = 1) {
  Eigen::Matrix<double, 3, 6> shift;
  shift.leftCols<3>().setIdentity();
  shift.rightCols<3>() = -cross_matrix(lever) / scale;
  return shift;
}

}  // namespace standpoint
