#include "planner/reach/element.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <optional>

#include <Eigen/Dense>

#include "geometry/vec.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

/// How the surface moves along its normal at a touch when the element's parameters change: one row
/// a touch. Lengths are scaled by the element's size, so that the rank test is free of units.
struct Rows {
  const TouchSet& set;

  Eigen::MatrixXd operator()(const PointFeature&) const { return ones(); }

  Eigen::MatrixXd operator()(const PlaneFeature& plane) const {
    const Vec3 x = any_perpendicular(plane.normal), y = plane.normal.cross(x);
    Vec3 middle = Vec3::Zero();
    for (const Touch& touch : set.touches) middle += touch.at / double(set.touches.size());
    double size = 0;
    for (const Touch& touch : set.touches) size = std::max(size, (touch.at - middle).norm());
    return fill(3, [&](const Touch& touch) {
      const Vec3 r = (touch.at - middle) / (size > 0 ? size : 1);
      return Eigen::RowVector3d(1, r.dot(x), r.dot(y));
    });
  }

  Eigen::MatrixXd operator()(const HoleFeature& hole) const {
    if (takes_whole_hole(set.way)) return ones();
    const Vec3 x = any_perpendicular(hole.axis), y = hole.axis.cross(x);
    return fill(3, [&](const Touch& touch) {
      return Eigen::RowVector3d(touch.normal.dot(x), touch.normal.dot(y), 1);
    });
  }

  Eigen::MatrixXd operator()(const CylinderFeature& cylinder) const {
    const Vec3 x = any_perpendicular(cylinder.axis), y = cylinder.axis.cross(x);
    return fill(5, [&](const Touch& touch) {
      const double z = (touch.at - cylinder.centre).dot(cylinder.axis) / cylinder.length;
      const double nx = touch.normal.dot(x), ny = touch.normal.dot(y);
      return Eigen::Matrix<double, 1, 5>(nx, ny, z * nx, z * ny, 1);
    });
  }

  Eigen::MatrixXd operator()(const SphereFeature&) const {
    return fill(4, [&](const Touch& touch) {
      return Eigen::RowVector4d(touch.normal.x(), touch.normal.y(), touch.normal.z(), 1);
    });
  }

  Eigen::MatrixXd operator()(const LineFeature& line) const {
    const Vec3 whole = line.to - line.from, middle = (line.from + line.to) / 2;
    return fill(2, [&](const Touch& touch) {
      return Eigen::RowVector2d(1, (touch.at - middle).dot(whole) / whole.squaredNorm());
    });
  }

  /// Shift of the axis, its turn about the centre, and the radius and angle of the cone. A turn
  /// about x moves the place r by x cross r; along the normal that is (r cross n) . x.
  Eigen::MatrixXd operator()(const ConeFeature& cone) const {
    const Vec3 x = any_perpendicular(cone.axis), y = cone.axis.cross(x);
    const double size = std::max(cone.length, cone.radius);
    const double side = cone.inside ? -1 : 1;
    return fill(6, [&](const Touch& touch) {
      const Vec3 r = (touch.at - cone.centre) / size;
      const Vec3 lever = r.cross(touch.normal);
      return Eigen::Matrix<double, 1, 6>(touch.normal.dot(x), touch.normal.dot(y), lever.dot(x),
                                         lever.dot(y), side, side * r.dot(cone.axis));
    });
  }

  /// In the plane of the slot: shift along and across, turn, width, and how far the ends stand off.
  Eigen::MatrixXd operator()(const SlotFeature& slot) const {
    const Vec3 across = slot.axis.cross(slot.along);
    return fill(5, [&](const Touch& touch) {
      const Vec3 r = (touch.at - slot.centre) / slot.length;
      const double along = touch.normal.dot(slot.along);
      return Eigen::Matrix<double, 1, 5>(along, touch.normal.dot(across),
                                         r.cross(touch.normal).dot(slot.axis), 1, std::abs(along));
    });
  }

  /// A surface has no parameters: its touches are counted.
  Eigen::MatrixXd operator()(const SurfaceFeature&) const { return ones(); }

 private:
  [[nodiscard]] Eigen::MatrixXd ones() const {
    return Eigen::MatrixXd::Ones(static_cast<Eigen::Index>(set.touches.size()), 1);
  }
  template <class RowOf>
  [[nodiscard]] Eigen::MatrixXd fill(Eigen::Index columns, RowOf row_of) const {
    Eigen::MatrixXd rows(static_cast<Eigen::Index>(set.touches.size()), columns);
    for (std::size_t i = 0; i < set.touches.size(); ++i) {
      rows.row(static_cast<Eigen::Index>(i)) = row_of(set.touches[i]);
    }
    return rows;
  }
};

/// The normal matrix of the rows that are `taken`.
Eigen::MatrixXd normal_matrix(const Eigen::MatrixXd& all, const std::vector<bool>& taken) {
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(all.cols(), all.cols());
  for (Eigen::Index i = 0; i < all.rows(); ++i) {
    if (taken[static_cast<std::size_t>(i)]) normal += all.row(i).transpose() * all.row(i);
  }
  return normal;
}

/// Mean over all rows of a_i (J^T J)^-1 a_i^T, with J the rows that are `taken`; nothing where they
/// do not fix the element. Judged against the greatest eigenvalue of all rows, so that more touches
/// never fix less.
std::optional<double> mean_variance(const Eigen::MatrixXd& all, const std::vector<bool>& taken) {
  const Eigen::MatrixXd whole = normal_matrix(all, std::vector<bool>(taken.size(), true));
  const Eigen::MatrixXd normal = normal_matrix(all, taken);
  using Solver = Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>;
  const double greatest = Solver(whole, Eigen::EigenvaluesOnly).eigenvalues().maxCoeff();
  const double least = Solver(normal, Eigen::EigenvaluesOnly).eigenvalues().minCoeff();
  if (!(least > tolerance::kElementRank * greatest)) return std::nullopt;
  return (all * normal.inverse()).cwiseProduct(all).sum() / static_cast<double>(all.rows());
}

/// The share of the touches, rounded up. What rounding leaves of a whole number is none: 0.9 of 10
/// are 9, though 0.9 * 10 in double may be a little more.
int enough_of(const SurfaceFeature& surface) {
  const double asked = surface.share * static_cast<double>(surface.touches.size());
  return static_cast<int>(std::ceil(asked * (1 - tolerance::kShareRounding)));
}

}  // namespace

bool is_enough(const Feature& feature, const TouchSet& touches, const std::vector<bool>& reached) {
  assert(reached.size() == touches.touches.size());
  const auto count = std::count(reached.begin(), reached.end(), true);
  if (feature.enough_touches) {
    // A rim is one touch: the ball finds the hole's middle by itself.
    const auto asked = takes_whole_hole(touches.way) ? 1 : *feature.enough_touches;
    return count >= asked;
  }
  if (count < least_touches(feature, touches.way)) return false;
  if (std::holds_alternative<SurfaceFeature>(feature.shape)) return true;
  const Eigen::MatrixXd rows = element_rows(feature, touches);
  const auto variance = mean_variance(rows, reached);
  const auto variance_of_all = mean_variance(rows, std::vector<bool>(reached.size(), true));
  constexpr double kMostGrowth = 1.5 * 1.5;  // of the standard error, squared
  return variance && variance_of_all && *variance <= kMostGrowth * *variance_of_all;
}

Eigen::MatrixXd element_rows(const Feature& feature, const TouchSet& touches) {
  return std::visit(Rows{touches}, feature.shape);
}

int least_touches(const Feature& feature, Way way) {
  struct Least {
    Way way;
    int operator()(const PointFeature&) const { return 1; }
    int operator()(const PlaneFeature&) const { return 3; }
    int operator()(const HoleFeature&) const { return takes_whole_hole(way) ? 1 : 3; }
    int operator()(const CylinderFeature&) const { return 5; }
    int operator()(const SphereFeature&) const { return 4; }
    int operator()(const LineFeature&) const { return 2; }
    int operator()(const ConeFeature&) const { return 6; }
    int operator()(const SlotFeature&) const { return 5; }
    int operator()(const SurfaceFeature& surface) const { return enough_of(surface); }
  };
  return std::visit(Least{way}, feature.shape);
}

}  // namespace standpoint
