#include "planner/network/motion.h"

#include <Eigen/Eigenvalues>
#include <Eigen/SVD>
#include <cmath>

#include "planner/model/tolerances.h"
#include "planner/network/network.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

Vec3 with_positive_greatest(const Vec3& direction) {
  Eigen::Index greatest = 0;
  // The first of parts that rounding alone tells apart.
  const double most = direction.cwiseAbs().maxCoeff();
  while (std::abs(direction[greatest]) < most * (1 - tolerance::kNoMotion)) ++greatest;
  return direction[greatest] < 0 ? Vec3(-direction) : direction;
}

/// Columns that span the same as `basis`, along the axes of the scene as far as they can be: what
/// people read first.
Eigen::MatrixXd along_axes(const Eigen::MatrixXd& basis) {
  Eigen::MatrixXd left = basis;  // orthonormal
  Eigen::MatrixXd told(basis.rows(), 0);
  for (Eigen::Index axis = 0; axis < basis.rows() && told.cols() < basis.cols(); ++axis) {
    Eigen::VectorXd inside = basis * basis.transpose().col(axis);
    if (inside.norm() < 1 - tolerance::kNoMotion) continue;
    told.conservativeResize(Eigen::NoChange, told.cols() + 1);
    told.rightCols(1) = inside.normalized();
  }
  if (told.cols() == basis.cols()) return told;
  left -= told * (told.transpose() * left);
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(left, Eigen::ComputeThinU);
  for (Eigen::Index i = 0; told.cols() < basis.cols(); ++i) {
    told.conservativeResize(Eigen::NoChange, told.cols() + 1);
    told.rightCols(1) = svd.matrixU().col(i);
  }
  return told;
}

/// Splits free motions (columns; translation of the centre, rotation in rad x scale) into those
/// that only shift, and for each direction of rotation one that turns.
struct Split {
  Eigen::MatrixXd shifts;  ///< 3 rows, orthonormal
  Eigen::MatrixXd turns;   ///< 6 rows; rotations orthonormal, no part of `shifts` in translations
};

Split split(const Eigen::MatrixXd& motions) {
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(motions.bottomRows(3),
                                              Eigen::ComputeFullU | Eigen::ComputeFullV);
  const Eigen::Index turning = (svd.singularValues().array() > tolerance::kNoMotion).count();
  const Eigen::Index shifting = motions.cols() - turning;
  Split result;
  const Eigen::MatrixXd shifts = (motions * svd.matrixV().rightCols(shifting)).topRows(3);
  result.shifts = shifts;
  if (shifting > 0) {
    const Eigen::JacobiSVD<Eigen::MatrixXd> even(shifts, Eigen::ComputeThinU);
    result.shifts = along_axes(even.matrixU().leftCols(shifting));
  }
  Eigen::MatrixXd turns = motions * svd.matrixV().leftCols(turning);
  if (turning > 0) {
    // The same space, its rotations along the scene's axes as far as they can be.
    const Eigen::MatrixXd rotations = svd.matrixU().leftCols(turning);
    const Eigen::MatrixXd wanted = along_axes(rotations);
    turns = turns * svd.singularValues().head(turning).cwiseInverse().asDiagonal() *
            (rotations.transpose() * wanted);
  }
  turns.topRows(3) -= result.shifts * (result.shifts.transpose() * turns.topRows(3));
  result.turns = turns;
  return result;
}

Eigen::Matrix<double, 6, 6> resistance(const std::vector<AlignmentTouch>& touches,
                                       const Vec3& centre, double scale) {
  Eigen::Matrix<double, 6, 6> sum = Eigen::Matrix<double, 6, 6>::Zero();
  for (const AlignmentTouch& touch : touches) {
    const auto shift = rigid_shift(touch.place - centre, scale);
    for (const Vec3& held : touch.held) {
      const Eigen::Matrix<double, 1, 6> row = held.transpose() * shift;
      sum += row.transpose() * row;
    }
  }
  return sum;
}

}  // namespace

Motion as_screw(const Vec3& translation, const Vec3& rotation, const Vec3& centre, double reach) {
  Motion motion;
  motion.through = centre;
  const double turn = rotation.norm();
  if (turn * reach <= tolerance::kNoTurn * translation.norm()) {
    motion.direction = with_positive_greatest(translation.normalized());
    return motion;
  }
  motion.turns = true;
  const Vec3 axis = rotation / turn;
  motion.direction = with_positive_greatest(axis);
  motion.through = centre + rotation.cross(translation) / (turn * turn);
  motion.rise = axis.dot(translation) / turn;
  return motion;
}

std::vector<Motion> free_motions(const std::vector<AlignmentTouch>& touches) {
  Vec3 centre = Vec3::Zero();
  for (const AlignmentTouch& touch : touches)
    centre += touch.place / static_cast<double>(touches.size());
  double square = 0;
  for (const AlignmentTouch& touch : touches) square += (touch.place - centre).squaredNorm();
  const double spread =
      touches.empty() ? 0 : std::sqrt(square / static_cast<double>(touches.size()));
  const double scale = spread > 0 ? spread : 1;
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> eigen(
      resistance(touches, centre, scale));
  const double floor = tolerance::kHingeRatio * eigen.eigenvalues()[5];
  Eigen::Index count = 0;
  while (count < 6 && eigen.eigenvalues()[count] <= floor) ++count;
  std::vector<Motion> motions;
  if (count == 0) return motions;
  const Split free = split(eigen.eigenvectors().leftCols(count));
  for (Eigen::Index i = 0; i < free.shifts.cols(); ++i)
    motions.push_back(as_screw(free.shifts.col(i), Vec3::Zero(), centre, scale));
  for (Eigen::Index i = 0; i < free.turns.cols(); ++i)
    motions.push_back(as_screw(free.turns.col(i).head<3>(),
                               Vec3(free.turns.col(i).tail<3>() / scale), centre, scale));
  return motions;
}

Vec3 shift_at(const Motion& motion, const Vec3& place) {
  if (!motion.turns) return motion.direction;
  return motion.direction.cross(place - motion.through) + motion.rise * motion.direction;
}

}  // namespace standpoint
