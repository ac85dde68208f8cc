#include "planner/segmentation/region.h"

#include <algorithm>
#include <optional>

#include "geometry/vec.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

/// The way out from a surface's axis or centre. Nothing so near to a cone's tip that there is none.
std::optional<Vec3> way_out(const Surface& surface, const Vec3& point) {
  if (surface.kind != SurfaceKind::cone) return outward(surface, point);
  const Vec3 from = point - surface.at;
  const Vec3 level = from - from.dot(surface.axis) * surface.axis;
  if (level.norm() < tolerance::kTipShare * surface.radius) return std::nullopt;
  return level;
}

}  // namespace

std::vector<Vec3> vertices_of(const PatchedMesh& in, const std::vector<std::uint32_t>& patches,
                              std::size_t most) {
  std::vector<std::uint32_t> numbers;
  for (const std::uint32_t p : patches) {
    const auto& mine = in.patches.all[p].vertices;
    numbers.insert(numbers.end(), mine.begin(), mine.end());
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  const std::size_t every = numbers.size() / most + 1;
  std::vector<Vec3> points;
  for (std::size_t i = 0; i < numbers.size(); i += every) {
    points.push_back(in.mesh.vertices[numbers[i]]);
  }
  return points;
}

double turn_over(const Surface& surface, const JoinedMesh& mesh, std::uint32_t triangle) {
  double widest = 0;
  const auto& t = mesh.triangles[triangle];
  for (std::size_t k = 0; k < 3; ++k) {
    const std::optional<Vec3> a = way_out(surface, mesh.vertices[t[k]]);
    const std::optional<Vec3> b = way_out(surface, mesh.vertices[t[(k + 1) % 3]]);
    if (a && b) widest = std::max(widest, angle_between(*a, *b));
  }
  return widest;
}

}  // namespace standpoint
