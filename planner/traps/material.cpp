#include "planner/traps/material.h"

#include <array>
#include <cmath>

#include "geometry/mesh_defects.h"
#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"

namespace standpoint {
namespace {

/// By the divergence theorem, about the first vertex so that far places lose no digits.
double volume_of(const Mesh& mesh) {
  double six_times = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto [a, b, c] = mesh.corners(t);
    const Vec3& o = mesh.vertices.front();
    six_times += (a - o).dot((b - o).cross(c - o));
  }
  return six_times / 6;
}

/// How a segment crosses a triangle: 1 from behind, -1 from the front, 0 not at all; nothing where
/// it passes an edge or lies in the plane (after T. Moeller and B. Trumbore, Journal of Graphics
/// Tools 2 (1997) 21-28).
std::optional<int> crossing(const std::array<Vec3, 3>& t, const Vec3& from, const Vec3& to) {
  constexpr double kUnclear = 1e-9;
  const Vec3 along = to - from, e = t[1] - t[0], f = t[2] - t[0];
  const Vec3 p = along.cross(f);
  const double det = e.dot(p);
  if (std::abs(det) <= kUnclear * along.norm() * e.norm() * f.norm()) {
    // Edge on: it meets the triangle in a line, or misses it by far more than rounding.
    const Vec3 normal = e.cross(f);
    const double height = std::abs((from - t[0]).dot(normal));
    return height > kUnclear * normal.norm() * along.norm() ? std::optional(0) : std::nullopt;
  }
  const Vec3 s = from - t[0], q = s.cross(e);
  const double u = s.dot(p) / det, v = along.dot(q) / det, w = f.dot(q) / det;
  const std::array<double, 4> bounds{u, v, 1 - u - v, w};
  bool is_in = w < 1;
  for (const double bound : bounds) is_in = is_in && bound > kUnclear;
  if (is_in) return det < 0 ? 1 : -1;
  for (const double bound : bounds)
    if (bound < -kUnclear) return 0;
  return w >= 1 ? std::optional(0) : std::nullopt;
}

}  // namespace

Material::Material(const Cell& cell)
    : cell_(cell), low_(Vec3::Constant(HUGE_VAL)), high_(Vec3::Constant(-HUGE_VAL)) {
  for (const auto& mesh : cell_.meshes()) {
    volume_.push_back(find_defects(*mesh).open_edges == 0 ? volume_of(*mesh) : 0);
    for (const Vec3& v : mesh->vertices) {
      low_ = low_.cwiseMin(v);
      high_ = high_.cwiseMax(v);
    }
  }
}

std::optional<std::vector<int>> Material::turns(const Vec3& at, const Vec3& far) const {
  std::vector<int> turns(volume_.size(), 0);
  const double reach = std::max(at.cwiseAbs().maxCoeff(), far.cwiseAbs().maxCoeff());
  const bool is_unclear = cell_.tree().any_near(
      RoundCone::capsule(at, far, 0), 4 * tolerance::margin_error(reach),
      [&](BodyId body, TriangleId triangle) {
        if (volume_[body.index] <= 0) return false;
        const auto crossed = crossing(cell_.tree().corners(body, triangle), at, far);
        if (!crossed) return true;
        turns[body.index] += *crossed;
        return false;
      });
  if (is_unclear) return std::nullopt;
  return turns;
}

std::optional<BodyId> Material::first_around(const Vec3& at) const {
  if ((at.array() < low_.array()).any() || (at.array() > high_.array()).any()) return std::nullopt;
  // No two of these lie in a plane with an axis, as edges of machined parts do.
  static const std::array<Vec3, 4> kWays{Vec3(0.137, 0.291, 0.947), Vec3(-0.411, 0.533, 0.740),
                                         Vec3(0.683, -0.207, 0.701), Vec3(-0.159, -0.877, 0.453)};
  const double length = 2 * (high_ - low_).norm() + 1;
  for (const Vec3& way : kWays) {
    const auto found = turns(at, at + length * way);
    if (!found) continue;
    for (std::size_t b = 0; b < found->size(); ++b)
      if ((*found)[b] > 0) return BodyId(b);
    return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace standpoint
