#include "planner/segmentation/shared_axes.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kSharedWallPoints = 4000;

double squares_off(const Surface& surface, std::span<const Vec3> points) {
  const double rms = misfit_of(surface, points).rms;
  return rms * rms * static_cast<double>(points.size());
}

/// The cylinders beside each cone and cylinder.
std::map<std::uint32_t, std::set<std::uint32_t>> cylinders_beside(const PatchedMesh& in,
                                                                  const Labels& labels) {
  std::map<std::uint32_t, std::set<std::uint32_t>> beside;
  for (std::uint32_t s = 0; s < in.mesh.across.size(); ++s) {
    if (in.mesh.across[s] == kNobody) continue;
    const std::uint32_t wall = labels.of_triangle[s / 3];
    const std::uint32_t other = labels.of_triangle[in.mesh.across[s] / 3];
    const SurfaceKind kind = labels.stretches[wall].surface.kind;
    if (wall != other && (kind == SurfaceKind::cone || kind == SurfaceKind::cylinder) &&
        labels.stretches[other].surface.kind == SurfaceKind::cylinder) {
      beside[wall].insert(other);
    }
  }
  return beside;
}

/// The wall's surface about the other's axis; nothing where its vertices speak against it.
std::optional<Surface> about_axis_of(const Surface& other, const Surface& wall,
                                     std::span<const Vec3> points, double scatter) {
  const double along = wall.axis.dot(other.axis);
  if (std::abs(along) < 1 - tolerance::kNearlySquare) return std::nullopt;
  Surface guess = wall;
  guess.axis = along < 0 ? Vec3(-other.axis) : other.axis;
  guess.at = other.at + other.axis.dot(wall.at - other.at) * other.axis;
  if ((guess.at - wall.at).norm() > wall.radius) return std::nullopt;
  const std::optional<Surface> fitted = fit_round(guess, points, AxisFit::line);
  if (!fitted) return std::nullopt;
  const double growth = squares_off(*fitted, points) - squares_off(wall, points);
  if (growth > tolerance::kSharedGrowth * scatter * scatter) return std::nullopt;
  return fitted;
}

}  // namespace

void share_axes(const PatchedMesh& in, Labels& labels) {
  const auto triangles = triangles_of(labels);
  std::vector<double> areas(triangles.size(), 0);
  for (std::size_t s = 0; s < triangles.size(); ++s) {
    for (const std::uint32_t t : triangles[s]) areas[s] += in.mesh.area_vectors[t].norm();
  }
  const auto beside = cylinders_beside(in, labels);
  std::vector<std::uint32_t> order(triangles.size());
  std::iota(order.begin(), order.end(), 0U);
  const auto is_larger = [&](std::uint32_t a, std::uint32_t b) {
    return areas[a] != areas[b] ? areas[a] > areas[b] : a < b;
  };
  std::sort(order.begin(), order.end(), is_larger);
  for (const std::uint32_t wall : order) {
    const auto found = beside.find(wall);
    if (found == beside.end()) continue;
    const std::uint32_t other =
        *std::min_element(found->second.begin(), found->second.end(), is_larger);
    if (!is_larger(other, wall)) continue;
    Surface& surface = labels.stretches[wall].surface;
    const std::vector<Vec3> points = corners_of(in.mesh, triangles[wall], kSharedWallPoints);
    const auto shared = about_axis_of(labels.stretches[other].surface, surface, points, in.scatter);
    if (shared) surface = *shared;
  }
}

}  // namespace standpoint
