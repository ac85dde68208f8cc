#include "planner/segmentation/square_axes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include <Eigen/Eigenvalues>

#include "geometry/vec.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kWallPoints = 4000;

double sum_of_squares(const Surface& surface, std::span<const Vec3> points) {
  const double rms = misfit_of(surface, points).rms;
  return rms * rms * static_cast<double>(points.size());
}

/// The planes beside each plane, cylinder and cone.
std::map<std::uint32_t, std::set<std::uint32_t>> planes_beside(const PatchedMesh& in,
                                                               const Labels& labels) {
  std::map<std::uint32_t, std::set<std::uint32_t>> beside;
  for (std::uint32_t s = 0; s < in.mesh.across.size(); ++s) {
    if (in.mesh.across[s] == kNobody) continue;
    const std::uint32_t wall = labels.of_triangle[s / 3];
    const std::uint32_t plane = labels.of_triangle[in.mesh.across[s] / 3];
    const SurfaceKind kind = labels.stretches[wall].surface.kind;
    if (wall != plane && kind != SurfaceKind::sphere && kind != SurfaceKind::other &&
        labels.stretches[plane].surface.kind == SurfaceKind::plane) {
      beside[wall].insert(plane);
    }
  }
  return beside;
}

/// The best plane of the points that is square to `normal`, facing as `wall` does.
Surface square_plane(const Surface& wall, const Vec3& normal, std::span<const Vec3> points) {
  const Vec3 u = any_perpendicular(normal), v = normal.cross(u);
  Surface plane = wall;
  plane.at = Vec3::Zero();
  for (const Vec3& p : points) plane.at += p / static_cast<double>(points.size());
  Eigen::Matrix2d moment = Eigen::Matrix2d::Zero();
  for (const Vec3& p : points) {
    const Vec2 d((p - plane.at).dot(u), (p - plane.at).dot(v));
    moment += d * d.transpose();
  }
  const Vec2 least = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(moment).eigenvectors().col(0);
  plane.axis = least[0] * u + least[1] * v;
  if (plane.axis.dot(wall.axis) < 0) plane.axis = -plane.axis;
  return plane;
}

/// The wall's surface square to the plane, as it stands on it or runs along it; nothing where its
/// vertices speak against it.
std::optional<Surface> squared(const Surface& wall, const Vec3& normal,
                               std::span<const Vec3> points, double scatter) {
  const double along = wall.axis.dot(normal);
  std::optional<Surface> fitted;
  if (wall.kind == SurfaceKind::plane) {
    if (std::abs(along) > tolerance::kNearlyAlong) return std::nullopt;
    fitted = square_plane(wall, normal, points);
  } else {
    if (std::abs(along) < 1 - tolerance::kNearlySquare) return std::nullopt;
    Surface guess = wall;
    guess.axis = along < 0 ? Vec3(-normal) : normal;
    fitted = fit_round(guess, points, AxisFit::kept);
  }
  if (!fitted) return std::nullopt;
  const double growth = sum_of_squares(*fitted, points) - sum_of_squares(wall, points);
  if (growth > tolerance::kSquareGrowth * scatter * scatter) return std::nullopt;
  return fitted;
}

}  // namespace

void square_axes(const PatchedMesh& in, Labels& labels) {
  const auto triangles = triangles_of(labels);
  std::vector<double> areas(triangles.size(), 0);
  for (std::size_t s = 0; s < triangles.size(); ++s) {
    for (const std::uint32_t t : triangles[s]) areas[s] += in.mesh.area_vectors[t].norm();
  }
  // The planes first, by the larger ones; the walls then by those.
  const auto all_beside = planes_beside(in, labels);
  std::vector<std::uint32_t> walls;
  for (const auto& [wall, planes] : all_beside) walls.push_back(wall);
  const auto comes_first = [&](std::uint32_t a, std::uint32_t b) {
    const bool a_flat = labels.stretches[a].surface.kind == SurfaceKind::plane;
    const bool b_flat = labels.stretches[b].surface.kind == SurfaceKind::plane;
    return a_flat != b_flat ? a_flat : areas[a] > areas[b];
  };
  std::stable_sort(walls.begin(), walls.end(), comes_first);
  for (const std::uint32_t wall : walls) {
    const auto& planes = all_beside.at(wall);
    const bool is_flat = labels.stretches[wall].surface.kind == SurfaceKind::plane;
    std::vector<std::uint32_t> order(planes.begin(), planes.end());
    std::stable_sort(order.begin(), order.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return areas[a] > areas[b]; });
    Surface& surface = labels.stretches[wall].surface;
    const std::vector<Vec3> points = corners_of(in.mesh, triangles[wall], kWallPoints);
    for (const std::uint32_t plane : order) {
      if (is_flat && areas[plane] < 4 * areas[wall]) break;
      const auto square =
          squared(surface, labels.stretches[plane].surface.axis, points, in.scatter);
      if (!square) continue;
      surface = *square;
      break;
    }
  }
}

}  // namespace standpoint
