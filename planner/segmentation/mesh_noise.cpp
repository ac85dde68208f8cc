#include "planner/segmentation/mesh_noise.h"

#include <algorithm>
#include <cmath>

#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

/// How far the corners on both sides of `side` are from one plane, in deviations of unit scatter;
/// positive where the edge is an outer one.
double flatness_residual(const JoinedMesh& mesh, std::uint32_t side) {
  const std::uint32_t other = mesh.across[side];
  const Vec3& p = mesh.vertices[mesh.corner(side)];
  const Vec3& q = mesh.vertices[mesh.end(side)];
  const Vec3& a = mesh.vertices[mesh.triangles[side / 3][(side % 3 + 2) % 3]];
  const Vec3& b = mesh.vertices[mesh.triangles[other / 3][(other % 3 + 2) % 3]];
  const double volume = (q - p).cross(a - p).dot(p - b);
  const double squares = 4 * mesh.area_vectors[side / 3].squaredNorm() +
                         4 * mesh.area_vectors[other / 3].squaredNorm() +
                         (a - p).cross(b - p).squaredNorm() + (a - q).cross(b - q).squaredNorm();
  return squares > 0 ? volume / std::sqrt(squares) : 0;
}

/// Both ways' sizes, as many of each as the rarer has, the smallest of each; ascending.
std::vector<double> balanced_sizes(const JoinedMesh& mesh, double floor) {
  std::vector<double> outer, inner;
  for (std::uint32_t side = 0; side < mesh.across.size(); ++side) {
    if (mesh.across[side] == kNobody || mesh.across[side] < side) continue;
    const double residual = flatness_residual(mesh, side);
    if (residual > -floor) outer.push_back(std::abs(residual));
    if (residual < floor) inner.push_back(std::abs(residual));
  }
  std::sort(outer.begin(), outer.end());
  std::sort(inner.begin(), inner.end());
  const std::size_t each = std::min(outer.size(), inner.size());
  outer.resize(each);
  outer.insert(outer.end(), inner.begin(), inner.begin() + static_cast<std::ptrdiff_t>(each));
  std::sort(outer.begin(), outer.end());
  return outer;
}

}  // namespace

double diagonal(const JoinedMesh& mesh) {
  if (mesh.vertices.empty()) return 0;
  Vec3 low = mesh.vertices[0], high = low;
  for (const Vec3& v : mesh.vertices) {
    low = low.cwiseMin(v);
    high = high.cwiseMax(v);
  }
  return (high - low).norm();
}

double estimate_scatter(const JoinedMesh& mesh) {
  const double floor = tolerance::least_scatter(diagonal(mesh));
  const std::vector<double> sizes = balanced_sizes(mesh, floor);
  if (sizes.empty()) return floor;
  // A quarter of normal scatter lies within 0.319 deviations; cut at 2.5, what is left has 0.955.
  double scatter = sizes[sizes.size() / 4] / 0.319;
  constexpr double kCut = 2.5, kLeft = 0.955;
  for (int round = 0; round < 20 && scatter > floor; ++round) {
    double sum = 0;
    std::size_t n = 0;
    for (; n < sizes.size() && sizes[n] < kCut * scatter; ++n) sum += sizes[n] * sizes[n];
    if (n == 0) break;
    scatter = std::sqrt(sum / static_cast<double>(n)) / kLeft;
  }
  return std::max(scatter, floor);
}

}  // namespace standpoint
