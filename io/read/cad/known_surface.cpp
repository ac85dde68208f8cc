#include "io/read/cad/known_surface.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

#include "io/words/tolerances.h"

namespace standpoint {
namespace {

using Samples = std::vector<SurfaceSample>;

Vec3 mean_point(const Samples& samples) {
  Vec3 sum = Vec3::Zero();
  for (const SurfaceSample& s : samples) {
    sum += s.point;
  }
  return sum / static_cast<double>(samples.size());
}

Vec3 mean_normal(const Samples& samples) {
  Vec3 sum = Vec3::Zero();
  for (const SurfaceSample& s : samples) {
    sum += s.normal;
  }
  return sum / static_cast<double>(samples.size());
}

/// The direction along which the normals, seen from `from`, spread least.
Vec3 least_spread(const Samples& samples, const Vec3& from) {
  Mat3 spread = Mat3::Zero();
  for (const SurfaceSample& s : samples) {
    spread += (s.normal - from) * (s.normal - from).transpose();
  }
  return Eigen::SelfAdjointEigenSolver<Mat3>(spread).eigenvectors().col(0);
}

template <class Distance>
bool fits(const Samples& samples, double within, const Distance& distance) {
  return std::all_of(samples.begin(), samples.end(), [&](const SurfaceSample& s) {
    const double d = std::abs(distance(s.point));
    return d <= within;  // false for what is not a number
  });
}

std::optional<Surface> as_plane(const Samples& samples, double within) {
  Surface plane;
  plane.kind = SurfaceKind::plane;
  plane.at = mean_point(samples);
  plane.axis = mean_normal(samples).normalized();
  if (!fits(samples, within, [&](const Vec3& p) { return plane.axis.dot(p - plane.at); })) {
    return std::nullopt;
  }
  return plane;
}

std::optional<Surface> as_cylinder(const Samples& samples, double within) {
  Surface cylinder;
  cylinder.kind = SurfaceKind::cylinder;
  cylinder.axis = least_spread(samples, Vec3::Zero());
  const auto slant = [&](const SurfaceSample& s) { return std::abs(s.normal.dot(cylinder.axis)); };
  if (std::any_of(samples.begin(), samples.end(),
                  [&](const SurfaceSample& s) { return slant(s) > tolerance::kSquareNormal; })) {
    return std::nullopt;
  }
  // p = c + r n across the axis, with r of either sign.
  Vec3 mean_p = mean_point(samples), mean_n = mean_normal(samples);
  double pn = 0, nn = 0;
  for (const SurfaceSample& s : samples) {
    pn += (s.normal - mean_n).dot(s.point - mean_p);
    nn += (s.normal - mean_n).squaredNorm();
  }
  const double radius = pn / nn;
  cylinder.at = mean_p - radius * mean_n;
  cylinder.radius = std::abs(radius);
  if (!fits(samples, within, [&](const Vec3& p) {
        return cylinder.axis.cross(p - cylinder.at).norm() - cylinder.radius;
      })) {
    return std::nullopt;
  }
  return cylinder;
}

std::optional<Surface> as_cone(const Samples& samples, double within) {
  Surface cone;
  cone.kind = SurfaceKind::cone;
  cone.axis = least_spread(samples, mean_normal(samples));
  Mat3 normals = Mat3::Zero();
  Vec3 reach = Vec3::Zero();
  for (const SurfaceSample& s : samples) {
    normals += s.normal * s.normal.transpose();
    reach += s.normal * s.normal.dot(s.point);
  }
  const Vec3 tip = normals.ldlt().solve(reach);
  const Vec3 middle = mean_point(samples);
  if (cone.axis.dot(middle - tip) < 0) {
    cone.axis = -cone.axis;
  }
  const double sine = std::abs(mean_normal(samples).dot(cone.axis));
  if (!(sine > tolerance::kSquareNormal && sine < 1 - tolerance::kSquareNormal)) {
    return std::nullopt;
  }
  const double cosine = std::sqrt(1 - sine * sine);
  if (!fits(samples, within, [&](const Vec3& p) {
        return cone.axis.cross(p - tip).norm() * cosine - cone.axis.dot(p - tip) * sine;
      })) {
    return std::nullopt;
  }
  const double along = cone.axis.dot(middle - tip);
  cone.at = tip + along * cone.axis;
  cone.radius = along * sine / cosine;
  cone.half_angle_rad = std::asin(sine);
  return cone;
}

std::optional<Surface> as_sphere(const Samples& samples, double within) {
  const Vec3 mean_p = mean_point(samples), mean_n = mean_normal(samples);
  double pn = 0, nn = 0;
  for (const SurfaceSample& s : samples) {
    pn += (s.normal - mean_n).dot(s.point - mean_p);
    nn += (s.normal - mean_n).squaredNorm();
  }
  Surface sphere;
  sphere.kind = SurfaceKind::sphere;
  const double radius = pn / nn;
  sphere.at = mean_p - radius * mean_n;
  sphere.radius = std::abs(radius);
  if (!fits(samples, within,
            [&](const Vec3& p) { return (p - sphere.at).norm() - sphere.radius; })) {
    return std::nullopt;
  }
  return sphere;
}

}  // namespace

std::optional<Surface> known_surface(const std::vector<SurfaceSample>& samples, double within) {
  constexpr std::size_t kFewest = 9;
  if (samples.size() < kFewest) {
    return std::nullopt;
  }
  for (const auto as : {as_plane, as_cylinder, as_cone, as_sphere}) {
    if (auto surface = as(samples, within)) {
      return surface;
    }
  }
  return std::nullopt;
}

}  // namespace standpoint
