#include "planner/segmentation/fit_faces.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "planner/segmentation/free_forms.h"
#include "planner/segmentation/mesh_noise.h"
#include "planner/segmentation/region_rims.h"
#include "planner/segmentation/round_regions.h"
#include "planner/segmentation/shared_axes.h"
#include "planner/segmentation/square_axes.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kAll = std::numeric_limits<std::size_t>::max();

/// The middle one, each counting by its second number; nothing of nothing.
std::optional<double> middle_of(std::vector<std::pair<double, double>> each) {
  double all = 0, sum = 0;
  for (const auto& [value, weight] : each) all += weight;
  std::sort(each.begin(), each.end());
  for (const auto& [value, weight] : each) {
    sum += weight;
    if (2 * sum >= all) return value;
  }
  return std::nullopt;
}

/// What scatter flat patches leave that have vertices to spare: where a mesh is coarse, its rounds
/// look like scatter at first.
std::optional<double> scatter_of_patches(const JoinedMesh& mesh, const Patches& patches) {
  std::vector<std::pair<double, double>> each;
  for (const Patch& patch : patches.all) {
    const double n = static_cast<double>(patch.vertices.size()), free = n - 3;
    if (free < 6) continue;
    const std::vector<Vec3> points = corners_of(mesh, patch.triangles, 4000);
    const std::optional<Surface> plane = fit_plane(points, patch.area);
    if (plane) each.emplace_back(misfit_of(*plane, points).rms * std::sqrt(n / free), free);
  }
  return middle_of(std::move(each));
}

/// What scatter the fitted stretches leave: the middle one, each counting by the points that its
/// surface is not held by, so that a few that are wrong say nothing. Nothing where none is fitted
/// to more points than it has numbers.
std::optional<double> scatter_left(const JoinedMesh& mesh, const Labels& labels) {
  std::vector<std::pair<double, double>> each;  // scatter, and what it counts
  const auto triangles = triangles_of(labels);
  for (std::size_t s = 0; s < triangles.size(); ++s) {
    const Surface& surface = labels.stretches[s].surface;
    if (surface.kind == SurfaceKind::other) continue;
    const std::vector<Vec3> points = corners_of(mesh, triangles[s], 4000);
    const double n = static_cast<double>(points.size()), free = n - numbers_of(surface.kind);
    if (free <= 0) continue;
    each.emplace_back(misfit_of(surface, points).rms * std::sqrt(n / free), free);
  }
  return middle_of(std::move(each));
}

/// Whether scatter alone, or what the mesh was moved by when it was made coarser, does not leave
/// such distances over more than a tenth of the face.
bool fits_badly(const PatchedMesh& in, const Surface& surface,
                const std::vector<std::uint32_t>& triangles, const Misfit& misfit,
                std::size_t points) {
  if (in.is_scattered) return misfit.rms > rms_allowed(in, surface.kind, points);
  double off = 0, all = 0;
  for (const std::uint32_t t : triangles) {
    const double area = in.mesh.area_vectors[t].norm();
    const auto& corners = in.mesh.triangles[t];
    all += area;
    if (std::any_of(corners.begin(), corners.end(), [&](std::uint32_t v) {
          return std::abs(distance(surface, in.mesh.vertices[v])) > 2 * in.within;
        }))
      off += area;
  }
  return off > tolerance::kDoubtfulShare * all;
}

/// Whether the facets may be meant as they are, or a plane fits the points about as well.
bool is_doubtful(const Stretch& stretch, std::span<const Vec3> points, double scatter) {
  const SurfaceKind kind = stretch.surface.kind;
  if (kind == SurfaceKind::plane || kind == SurfaceKind::other) return false;
  if (stretch.step_rad > tolerance::kDoubtfulStep) return true;
  const std::optional<Surface> plane = fit_plane(points, Vec3::UnitZ());
  return plane && misfit_of(*plane, points).rms < tolerance::kDoubtfulRise * scatter;
}

std::vector<std::uint32_t> largest_first(const std::vector<double>& areas) {
  std::vector<std::uint32_t> order(areas.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::uint32_t a, std::uint32_t b) { return areas[a] > areas[b]; });
  return order;
}

PartFaces faces_of(const PatchedMesh& in, const Labels& labels, std::size_t of_triangles) {
  const auto triangles = triangles_of(labels);
  std::vector<double> areas(triangles.size(), 0);
  for (std::size_t s = 0; s < triangles.size(); ++s) {
    for (const std::uint32_t t : triangles[s]) areas[s] += in.mesh.area_vectors[t].norm();
  }
  const std::vector<std::uint32_t> order = largest_first(areas);
  std::vector<std::size_t> place(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
  std::vector<std::vector<Loop>> rims = rims_of(in, labels);
  PartFaces part;
  part.chord = labels.chord;
  for (const std::uint32_t s : order) {
    Face face;
    face.number = part.faces.size() + 1;
    face.solid = in.mesh.pieces[triangles[s][0]];
    face.surface = labels.stretches[s].surface;
    face.hollow = labels.stretches[s].hollow;
    face.area = areas[s];
    face.loops = std::move(rims[s]);
    for (Loop& loop : face.loops) {
      for (Edge& edge : loop) {
        if (edge.beyond) edge.beyond = place[*edge.beyond];
      }
    }
    SurfaceFit fit;
    if (face.surface.kind != SurfaceKind::other) {
      const std::vector<Vec3> points = corners_of(in.mesh, triangles[s], kAll);
      const Misfit misfit = misfit_of(face.surface, points);
      fit.rms = misfit.rms;
      fit.worst = misfit.worst;
      fit.doubtful = is_doubtful(labels.stretches[s], points, in.scatter) ||
                     fits_badly(in, face.surface, triangles[s], misfit, points.size());
    }
    fit.triangles = triangles[s].size();
    fit.of_triangles = of_triangles;
    face.fit = fit;
    part.faces.push_back(std::move(face));
  }
  return part;
}

}  // namespace

PartFaces fit_faces(const Mesh& mesh) {
  const JoinedMesh joined = join_triangles(mesh);
  if (joined.triangles.empty()) return {};
  const double floor = tolerance::least_scatter(diagonal(joined));
  double scatter = estimate_scatter(joined);
  const double flat =
      scatter_of_patches(joined, find_flat_patches(joined, scatter)).value_or(scatter);
  if (flat < 0.85 * scatter) scatter = std::max(flat, floor);
  // Where a mesh is curved all over, its first estimate is too large; what is fitted tells better.
  for (int round = 0;; ++round) {
    const Patches patches = find_flat_patches(joined, scatter);
    const PatchedMesh in = {joined, patches, scatter, tolerance::kScattersWithin * scatter,
                            scatter > 2 * floor};
    Labels labels = label_patches(in, without_free_forms(in, find_round_regions(in)));
    settle_borders(in, labels);
    const double left = std::max(scatter_left(joined, labels).value_or(scatter), floor);
    if (round == 2 || left > 0.85 * scatter) {
      square_axes(in, labels);
      share_axes(in, labels);
      return faces_of(in, labels, mesh.triangles.size());
    }
    scatter = left;
  }
}

}  // namespace standpoint
