#include "planner/segmentation/surface_fit.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

#include "geometry/vec.h"

#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

using Vec6 = Eigen::Matrix<double, 6, 1>;
using Mat6 = Eigen::Matrix<double, 6, 6>;

Vec3 mean_of(std::span<const Vec3> points) {
  Vec3 sum = Vec3::Zero();
  for (const Vec3& p : points) sum += p;
  return sum / static_cast<double>(points.size());
}

double extent_of(std::span<const Vec3> points, const Vec3& mean) {
  double sum = 0;
  for (const Vec3& p : points) sum += (p - mean).squaredNorm();
  return std::sqrt(sum / static_cast<double>(points.size()));
}

/// A surface on its way to the best fit. What moves it: a shift along u and v (a sphere: and axis),
/// a turn of the axis towards u and v times `size`, the radius, and the half-angle times `size`.
class Moving {
 public:
  Moving(const Surface& surface, const Vec3& mean, double size, AxisFit axis)
      : surface_(surface), mean_(mean), size_(size), axis_(axis) {
    settle();
  }

  [[nodiscard]] const Surface& surface() const { return surface_; }

  /// Distance of a point, and how each movement changes it. Movements that the kind has not are 0.
  double residual(const Vec3& point, Vec6& slope) const {
    slope.setZero();
    const Vec3 from = point - surface_.at;
    if (surface_.kind == SurfaceKind::sphere) {
      const double length = from.norm();
      const Vec3 e = length > 0 ? Vec3(from / length) : surface_.axis;
      slope.head<3>() << -e.dot(u_), -e.dot(v_), -e.dot(surface_.axis);
      slope[4] = -1;
      return length - surface_.radius;
    }
    const double height = from.dot(surface_.axis);
    const Vec3 level = from - height * surface_.axis;
    const double rho = level.norm();
    const double eu = rho > 0 ? level.dot(u_) / rho : 1, ev = rho > 0 ? level.dot(v_) / rho : 0;
    const double off = rho - surface_.radius;
    slope[0] = -cosine_ * eu;
    slope[1] = -cosine_ * ev;
    slope[2] = (-cosine_ * height * eu - sine_ * level.dot(u_)) / size_;
    slope[3] = (-cosine_ * height * ev - sine_ * level.dot(v_)) / size_;
    if (axis_ != AxisFit::free) slope[2] = slope[3] = 0;
    if (axis_ == AxisFit::line) slope[0] = slope[1] = 0;
    slope[4] = -cosine_;
    if (surface_.kind == SurfaceKind::cone) slope[5] = (-sine_ * off - cosine_ * height) / size_;
    return cosine_ * off - sine_ * height;
  }

  void move(const Vec6& by) {
    surface_.at += by[0] * u_ + by[1] * v_;
    surface_.radius += by[4];
    if (surface_.kind == SurfaceKind::sphere) {
      surface_.at += by[2] * surface_.axis;
    } else {
      surface_.axis = (surface_.axis + (by[2] * u_ + by[3] * v_) / size_).normalized();
      surface_.half_angle_rad += by[5] / size_;
    }
    settle();
  }

 private:
  /// Brings `at` beside the mean, and the frame along.
  void settle() {
    const bool is_cone = surface_.kind == SurfaceKind::cone;
    sine_ = is_cone ? sine(surface_.half_angle_rad) : 0;
    cosine_ = is_cone ? cosine(surface_.half_angle_rad) : 1;
    if (surface_.kind != SurfaceKind::sphere) {
      const double shift = (mean_ - surface_.at).dot(surface_.axis);
      surface_.at += shift * surface_.axis;
      if (is_cone) surface_.radius += shift * sine_ / std::max(cosine_, 1e-3);
    }
    u_ = any_perpendicular(surface_.axis);
    v_ = surface_.axis.cross(u_);
  }

  Surface surface_;
  Vec3 mean_, u_ = Vec3::UnitX(), v_ = Vec3::UnitY();
  double size_, sine_ = 0, cosine_ = 1;
  AxisFit axis_;
};

struct Normal {
  Mat6 matrix = Mat6::Zero();
  Vec6 right = Vec6::Zero();
  double sum = 0;
};

Normal normal_equations(const Moving& moving, std::span<const Vec3> points) {
  Normal normal;
  Vec6 slope;
  for (const Vec3& p : points) {
    const double r = moving.residual(p, slope);
    normal.matrix.selfadjointView<Eigen::Lower>().rankUpdate(slope);
    normal.right -= r * slope;
    normal.sum += r * r;
  }
  normal.matrix = normal.matrix.selfadjointView<Eigen::Lower>();
  return normal;
}

double sum_of_squares(const Moving& moving, std::span<const Vec3> points) {
  double sum = 0;
  Vec6 slope;
  for (const Vec3& p : points) {
    const double r = moving.residual(p, slope);
    sum += r * r;
  }
  return sum;
}

bool is_sane(const Surface& s, double size) {
  if (!s.at.allFinite() || !s.axis.allFinite() || !std::isfinite(s.radius)) return false;
  if (s.kind == SurfaceKind::cone) {
    const double angle = s.half_angle_rad;
    return s.radius > 0 && angle > tolerance::kLeastConeAngle &&
           angle < 1.5707963267948966 - tolerance::kLeastConeAngle;
  }
  return s.radius > 0 && s.radius < tolerance::kFlattestRadius * size;
}

}  // namespace

double distance(const Surface& surface, const Vec3& point) {
  const Vec3 from = point - surface.at;
  if (surface.kind == SurfaceKind::plane) return from.dot(surface.axis);
  if (surface.kind == SurfaceKind::sphere) return from.norm() - surface.radius;
  const double height = from.dot(surface.axis);
  const double off = (from - height * surface.axis).norm() - surface.radius;
  if (surface.kind == SurfaceKind::cylinder) return off;
  return cosine(surface.half_angle_rad) * off - sine(surface.half_angle_rad) * height;
}

Vec3 outward(const Surface& surface, const Vec3& point) {
  if (surface.kind == SurfaceKind::plane) return surface.axis;
  Vec3 from = point - surface.at;
  if (surface.kind != SurfaceKind::sphere) from -= from.dot(surface.axis) * surface.axis;
  const double length = from.norm();
  const Vec3 e = length > 0 ? Vec3(from / length) : any_perpendicular(surface.axis);
  if (surface.kind != SurfaceKind::cone) return e;
  return cosine(surface.half_angle_rad) * e - sine(surface.half_angle_rad) * surface.axis;
}

std::optional<Surface> fit_plane(std::span<const Vec3> points, const Vec3& out) {
  if (points.size() < 3) return std::nullopt;
  Surface plane;
  plane.kind = SurfaceKind::plane;
  plane.at = mean_of(points);
  Mat3 scatter = Mat3::Zero();
  for (const Vec3& p : points) scatter += (p - plane.at) * (p - plane.at).transpose();
  const Eigen::SelfAdjointEigenSolver<Mat3> axes(scatter);
  if (axes.eigenvalues()[1] <= 1e-12 * axes.eigenvalues()[2]) return std::nullopt;
  plane.axis = axes.eigenvectors().col(0);
  if (plane.axis.dot(out) < 0) plane.axis = -plane.axis;
  return plane;
}

std::optional<Surface> fit_round(const Surface& guess, std::span<const Vec3> points, AxisFit axis,
                                 double hopeless) {
  if (points.size() < 4) return std::nullopt;
  const Vec3 mean = mean_of(points);
  const double size = extent_of(points, mean);
  if (!(size > 0)) return std::nullopt;
  Moving moving(guess, mean, size, axis);
  const double hopeless_sum = hopeless * hopeless * static_cast<double>(points.size());
  double damping = 1e-6;
  for (int step = 0; step < 50; ++step) {
    if (!is_sane(moving.surface(), size)) return std::nullopt;
    const Normal normal = normal_equations(moving, points);
    Moving best = moving;
    Vec6 by = Vec6::Zero();
    double after = normal.sum;
    bool is_better = false;
    for (int tries = 0; tries < 8 && !is_better; ++tries) {
      Mat6 damped = normal.matrix;
      // Movements that the kind has not stay put by their own unit weight.
      for (int i = 0; i < 6; ++i) {
        damped(i, i) = damped(i, i) > 0 ? damped(i, i) * (1 + damping) : 1;
      }
      by = damped.ldlt().solve(normal.right);
      best = moving;
      best.move(by);
      after = sum_of_squares(best, points);
      is_better = by.allFinite() && after <= normal.sum;
      damping = is_better ? std::max(damping / 10, 1e-15) : damping * 10;
    }
    if (!is_better) break;
    moving = best;
    if (after > hopeless_sum && after > 0.99 * normal.sum) return std::nullopt;
    if (by.norm() < 1e-10 * size || after >= (1 - 1e-9) * normal.sum) break;
  }
  if (!is_sane(moving.surface(), size)) return std::nullopt;
  return moving.surface();
}

std::optional<Surface> guess_cylinder(std::span<const Vec3> points,
                                      std::span<const NormalAt> normals) {
  Mat3 moment = Mat3::Zero();
  for (const NormalAt& n : normals) moment += n.normal * n.normal.transpose();
  const Eigen::SelfAdjointEigenSolver<Mat3> axes(moment);
  Surface cylinder;
  cylinder.kind = SurfaceKind::cylinder;
  cylinder.axis = axes.eigenvectors().col(0);
  const Vec3 mean = mean_of(points);
  const Vec3 u = any_perpendicular(cylinder.axis), v = cylinder.axis.cross(u);
  Mat3 matrix = Mat3::Zero();
  Vec3 right = Vec3::Zero();
  for (const Vec3& p : points) {
    const double x = (p - mean).dot(u), y = (p - mean).dot(v);
    const Vec3 row(2 * x, 2 * y, 1);
    matrix += row * row.transpose();
    right += (x * x + y * y) * row;
  }
  const Vec3 solved = matrix.ldlt().solve(right);
  const double square = solved[2] + solved[0] * solved[0] + solved[1] * solved[1];
  if (!solved.allFinite() || !(square > 0)) return std::nullopt;
  cylinder.at = mean + solved[0] * u + solved[1] * v;
  cylinder.radius = std::sqrt(square);
  return cylinder;
}

std::optional<Surface> guess_cone(std::span<const Vec3> points, std::span<const NormalAt> normals) {
  const Vec3 mean = mean_of(points);
  Mat3 planes = Mat3::Zero(), spread = Mat3::Zero();
  Vec3 right = Vec3::Zero(), middle = Vec3::Zero();
  for (const NormalAt& n : normals) {
    planes += n.normal * n.normal.transpose();
    right += n.normal.dot(n.point - mean) * n.normal;
    middle += n.normal / static_cast<double>(normals.size());
  }
  for (const NormalAt& n : normals) {
    spread += (n.normal - middle) * (n.normal - middle).transpose();
  }
  const Vec3 apex = mean + planes.ldlt().solve(right);
  Surface cone;
  cone.kind = SurfaceKind::cone;
  cone.axis = Eigen::SelfAdjointEigenSolver<Mat3>(spread).eigenvectors().col(0);
  // The normals lean against the way that the cone gets wider.
  double lean = -cone.axis.dot(middle);
  const double height = cone.axis.dot(mean - apex);
  if (height < 0) {
    cone.axis = -cone.axis;
    lean = -lean;
  }
  lean = std::min(std::abs(lean), 1.0);
  cone.half_angle_rad = arc_sine(lean);
  cone.at = apex + std::abs(height) * cone.axis;
  cone.radius = std::abs(height) * lean / std::sqrt(std::max(1 - lean * lean, 1e-12));
  if (!cone.at.allFinite() || !(cone.radius > 0)) return std::nullopt;
  return cone;
}

std::optional<Surface> guess_sphere(std::span<const Vec3> points) {
  const Vec3 mean = mean_of(points);
  Eigen::Matrix4d matrix = Eigen::Matrix4d::Zero();
  Eigen::Vector4d right = Eigen::Vector4d::Zero();
  for (const Vec3& p : points) {
    const Vec3 d = p - mean;
    const Eigen::Vector4d row(2 * d.x(), 2 * d.y(), 2 * d.z(), 1);
    matrix += row * row.transpose();
    right += d.squaredNorm() * row;
  }
  const Eigen::Vector4d solved = matrix.ldlt().solve(right);
  const double square = solved[3] + solved.head<3>().squaredNorm();
  if (!solved.allFinite() || !(square > 0)) return std::nullopt;
  Surface sphere;
  sphere.kind = SurfaceKind::sphere;
  sphere.at = mean + solved.head<3>();
  sphere.radius = std::sqrt(square);
  return sphere;
}

Misfit misfit_of(const Surface& surface, std::span<const Vec3> points) {
  Misfit misfit;
  for (const Vec3& p : points) {
    const double d = std::abs(distance(surface, p));
    misfit.rms += d * d;
    misfit.worst = std::max(misfit.worst, d);
  }
  if (!points.empty()) misfit.rms = std::sqrt(misfit.rms / static_cast<double>(points.size()));
  return misfit;
}

}  // namespace standpoint
