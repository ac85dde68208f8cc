#include "planner/segmentation/fit_faces.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "planner/segmentation/free_forms.h"
#include "planner/segmentation/mesh_noise.h"
#include "planner/segmentation/region_rims.h"
#include "planner/segmentation/round_regions.h"
#include "planner/segmentation/square_axes.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kAll = std::numeric_limits<std::size_t>::max();

/// What scatter the fitted stretches leave, each counting by its vertices; nothing where none is
/// fitted to more points than it has numbers.
std::optional<double> scatter_left(const JoinedMesh& mesh, const Labels& labels) {
  double sum = 0, n = 0;
  const auto triangles = triangles_of(labels);
  for (std::size_t s = 0; s < triangles.size(); ++s) {
    const Surface& surface = labels.stretches[s].surface;
    if (surface.kind == SurfaceKind::other) continue;
    const std::vector<Vec3> points = corners_of(mesh, triangles[s], 4000);
    const double free = static_cast<double>(points.size()) - 6;
    if (free <= 0) continue;
    const double rms = misfit_of(surface, points).rms;
    sum += rms * rms * static_cast<double>(points.size());
    n += free;
  }
  if (n <= 0) return std::nullopt;
  return std::sqrt(sum / n);
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
      fit.doubtful = is_doubtful(labels.stretches[s], points, in.scatter);
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
  // Where a mesh is curved all over, its first estimate is too large; what is fitted tells better.
  for (int round = 0;; ++round) {
    const Patches patches = find_flat_patches(joined, scatter);
    const PatchedMesh in = {joined, patches, scatter, tolerance::kScattersWithin * scatter};
    Labels labels = label_patches(in, without_free_forms(in, find_round_regions(in)));
    settle_borders(in, labels);
    const double left = std::max(scatter_left(joined, labels).value_or(scatter), floor);
    if (round == 2 || left > 0.6 * scatter) {
      square_axes(in, labels);
      return faces_of(in, labels, mesh.triangles.size());
    }
    scatter = left;
  }
}

}  // namespace standpoint
