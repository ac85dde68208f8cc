#include "planner/segmentation/free_forms.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/vec.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

/// Whether patches are seen all round the axis: no gap as wide as a sixth of the round.
bool goes_round(const PatchedMesh& in, const Region& region) {
  const Vec3 u = any_perpendicular(region.surface.axis), v = region.surface.axis.cross(u);
  constexpr double kSectors = 24;
  std::array<bool, 24> is_met{};
  for (const std::uint32_t t : region.triangles) {
    for (const std::uint32_t i : in.mesh.triangles[t]) {
      const Vec3 from = in.mesh.vertices[i] - region.surface.at;
      const double turn = arc_tangent(from.dot(v), from.dot(u)) / 6.283185307179586 + 0.5;
      is_met[static_cast<std::size_t>(turn * kSectors) % is_met.size()] = true;
    }
  }
  std::size_t gap = 0, widest = 0;
  for (std::size_t i = 0; i < 2 * is_met.size(); ++i) {
    gap = is_met[i % is_met.size()] ? 0 : gap + 1;
    widest = std::max(widest, gap);
  }
  return widest < 4;
}

/// Of a cone: whether a patch reaches so much farther from its rim than its neighbour does that the
/// two are no rows of one torus. Along the rim both are as long: their areas are as their widths.
bool is_long_row(const Patch& patch, const Patch& other) {
  return patch.area.norm() > tolerance::kRowWidths * other.area.norm();
}

/// Share of a region's rim over which its surface goes on smoothly.
double smooth_share(const PatchedMesh& in, const Region& region,
                    const std::vector<std::uint32_t>& region_of, std::uint32_t mine) {
  double smooth = 0, all = 0;
  // What a facet of a flat cone hides is foreshortened: taken across its axis instead.
  const double hidden = region.chord / std::max(cosine(region.surface.half_angle_rad), 0.01);
  for (const std::uint32_t p : region.patches) {
    const Patch& patch = in.patches.all[p];
    for (const Beside& beside : patch.beside) {
      if (region_of[beside.patch] == mine) continue;
      const Patch& other = in.patches.all[beside.patch];
      const double angle = angle_between(patch.area, other.area);
      all += beside.length;
      if (angle > tolerance::kWideStep) continue;
      if (region.surface.kind == SurfaceKind::cone && is_long_row(patch, other)) continue;
      // The first row of a round stands half a step off the plane or cylinder that it leaves.
      double rise = rise_over(patch, beside.length, angle);
      if (angle > tolerance::kHalfStep || region.surface.kind != SurfaceKind::cone) {
        rise = std::max(rise, rise_over(other, beside.length, angle));
      }
      if (rise < tolerance::kHiddenRise * hidden + in.scatter) smooth += beside.length;
    }
  }
  return all > 0 ? smooth / all : 0;
}

}  // namespace

bool is_wide_cap(const JoinedMesh& mesh, const Surface& sphere,
                 const std::vector<std::uint32_t>& triangles) {
  Vec3 middle = Vec3::Zero();
  double area = 0;
  for (const std::uint32_t t : triangles) {
    middle += mesh.area_vectors[t];
    area += mesh.area_vectors[t].norm();
  }
  if (triangles.empty() || !(middle.norm() > 1e-6 * area)) return !triangles.empty();
  const Vec3& first = mesh.vertices[mesh.triangles[triangles.front()][0]];
  if (mesh.area_vectors[triangles.front()].dot(first - sphere.at) < 0) middle = -middle;
  double widest = 0;
  for (const std::uint32_t t : triangles) {
    for (const std::uint32_t i : mesh.triangles[t]) {
      widest = std::max(widest, angle_between(mesh.vertices[i] - sphere.at, middle));
    }
  }
  return widest > tolerance::kLeastCap;
}

double rise_over(const Patch& patch, double length, double angle) {
  return patch.area.norm() / std::max(length, 1e-9) * angle / 8;
}

std::vector<Region> without_free_forms(const PatchedMesh& in, std::vector<Region> rounds) {
  std::vector<std::uint32_t> region_of(in.patches.all.size(), kNobody);
  for (std::uint32_t r = 0; r < rounds.size(); ++r) {
    for (const std::uint32_t p : rounds[r].patches) region_of[p] = r;
  }
  double chord = 0;
  for (const Region& region : rounds) {
    if (region.surface.kind == SurfaceKind::cylinder) chord = std::max(chord, region.chord);
  }
  std::vector<Region> kept;
  for (std::uint32_t r = 0; r < rounds.size(); ++r) {
    const SurfaceKind kind = rounds[r].surface.kind;
    if (kind == SurfaceKind::sphere) {
      if (!is_wide_cap(in.mesh, rounds[r].surface, rounds[r].triangles)) continue;
      if (chord > 0 && rounds[r].chord > tolerance::kSphereChord * chord) continue;
    }
    if (smooth_share(in, rounds[r], region_of, r) > 0.5 &&
        !(kind == SurfaceKind::cylinder && goes_round(in, rounds[r]))) {
      continue;
    }
    kept.push_back(std::move(rounds[r]));
  }
  return kept;
}

}  // namespace standpoint
