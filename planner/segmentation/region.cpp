#include "planner/segmentation/region.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/trigonometry.h"
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

std::vector<Vec3> corners_of(const JoinedMesh& mesh, const std::vector<std::uint32_t>& triangles,
                             std::size_t most) {
  std::vector<std::uint32_t> numbers;
  for (const std::uint32_t t : triangles) {
    numbers.insert(numbers.end(), mesh.triangles[t].begin(), mesh.triangles[t].end());
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  const std::size_t every = numbers.size() / most + 1;
  std::vector<Vec3> points;
  for (std::size_t i = 0; i < numbers.size(); i += every)
    points.push_back(mesh.vertices[numbers[i]]);
  return points;
}

double numbers_of(SurfaceKind kind) {
  switch (kind) {
    case SurfaceKind::plane:
      return 3;
    case SurfaceKind::sphere:
      return 4;
    case SurfaceKind::cylinder:
      return 5;
    default:
      return 6;
  }
}

double rms_allowed(const PatchedMesh& in, SurfaceKind kind, std::size_t points) {
  const double n = static_cast<double>(points), free = n - numbers_of(kind);
  if (!in.is_scattered || free < 1) return in.within;
  const double spread = tolerance::kSpreadOfRms * std::sqrt(2 / free);
  return tolerance::kScatterKnown * in.scatter * std::sqrt(free / n * (1 + spread));
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

bool turns_wider(const Surface& surface, const JoinedMesh& mesh, std::uint32_t triangle,
                 double limit) {
  const double least = cosine(limit);
  const auto& t = mesh.triangles[triangle];
  for (std::size_t k = 0; k < 3; ++k) {
    const std::optional<Vec3> a = way_out(surface, mesh.vertices[t[k]]);
    const std::optional<Vec3> b = way_out(surface, mesh.vertices[t[(k + 1) % 3]]);
    if (!a || !b) continue;
    const double dot = a->dot(*b);
    if (dot < 0 || dot * dot < least * least * a->squaredNorm() * b->squaredNorm()) return true;
  }
  return false;
}

}  // namespace standpoint
