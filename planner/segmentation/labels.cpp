#include "planner/segmentation/labels.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "planner/model/tolerances.h"
#include "planner/segmentation/mesh_noise.h"

namespace standpoint {
namespace {

/// So many patches tell how fine a mesh is cut.
constexpr std::size_t kManyFacets = 6;

/// Sets that are joined.
class Sets {
 public:
  explicit Sets(std::size_t n) : parent_(n) { std::iota(parent_.begin(), parent_.end(), 0U); }
  std::uint32_t root(std::uint32_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  void join(std::uint32_t a, std::uint32_t b) {
    const std::uint32_t mine = root(a), other = root(b);
    parent_[std::max(mine, other)] = std::min(mine, other);
  }

 private:
  std::vector<std::uint32_t> parent_;
};

class Labeller {
 public:
  Labeller(const PatchedMesh& in, const std::vector<Region>& rounds)
      : in_(in), round_of_(in.patches.all.size(), kNobody) {
    double chord = tolerance::kChordShare * diagonal(in.mesh);
    bool has_round = false;
    for (std::uint32_t r = 0; r < rounds.size(); ++r) {
      if (rounds[r].bends >= kManyFacets) {
        chord = has_round ? std::max(chord, rounds[r].chord) : rounds[r].chord;
        has_round = true;
      }
      for (const std::uint32_t p : rounds[r].patches) round_of_[p] = r;
      labels_.stretches.push_back({rounds[r].surface, rounds[r].hollow, rounds[r].step_rad});
    }
    labels_.chord = has_round ? chord : 0;
    facet_rise_ = 1.5 * chord + in.within;
  }

  Labels run() {
    const std::size_t n = in_.patches.all.size();
    std::vector<std::uint32_t> stretch_of = round_of_;
    std::vector<bool> is_rest(n, false);
    for (std::uint32_t p = 0; p < n; ++p) {
      if (stretch_of[p] != kNobody) continue;
      if (std::optional<Surface> plane = plane_of(p)) {
        stretch_of[p] = static_cast<std::uint32_t>(labels_.stretches.size());
        labels_.stretches.push_back({*plane, false, 0});
      } else {
        is_rest[p] = true;
      }
    }
    gather_rest(is_rest, stretch_of);
    labels_.of_triangle.resize(in_.mesh.triangles.size());
    for (std::uint32_t t = 0; t < labels_.of_triangle.size(); ++t) {
      labels_.of_triangle[t] = stretch_of[in_.patches.of_triangle[t]];
    }
    return std::move(labels_);
  }

 private:
  [[nodiscard]] double bend(std::uint32_t a, std::uint32_t b) const {
    return angle_between(in_.patches.all[a].area, in_.patches.all[b].area);
  }

  /// How far an arc over a patch would rise that bends by so much at one of its edges.
  [[nodiscard]] double rise(const Patch& patch, double length, double angle) const {
    return patch.area.norm() / std::max(length, 1e-9) * angle / 8;
  }

  [[nodiscard]] bool is_facet(std::uint32_t p) const {
    const Patch& patch = in_.patches.all[p];
    return std::any_of(patch.beside.begin(), patch.beside.end(), [&](const Beside& beside) {
      if (round_of_[beside.patch] != kNobody) return false;
      const double angle = bend(p, beside.patch);
      return angle < tolerance::kWideStep &&
             rise(patch, beside.length, angle) < facet_rise_ &&
             rise(in_.patches.all[beside.patch], beside.length, angle) < facet_rise_;
    });
  }

  [[nodiscard]] std::optional<Surface> plane_of(std::uint32_t p) const {
    const Patch& patch = in_.patches.all[p];
    double edges = 0;
    for (const Beside& beside : patch.beside) edges += beside.length;
    if (2 * patch.area.norm() < tolerance::kWidthForDirection * in_.scatter * edges) {
      return std::nullopt;
    }
    if (is_facet(p)) return std::nullopt;
    return fit_plane(vertices_of(in_, {p}, 2000), patch.area);
  }

  void gather_rest(const std::vector<bool>& is_rest, std::vector<std::uint32_t>& stretch_of) {
    Sets sets(is_rest.size());
    for (std::uint32_t p = 0; p < is_rest.size(); ++p) {
      if (!is_rest[p]) continue;
      for (const Beside& beside : in_.patches.all[p].beside) {
        if (is_rest[beside.patch] && bend(p, beside.patch) < tolerance::kWideStep) {
          sets.join(p, beside.patch);
        }
      }
    }
    for (std::uint32_t p = 0; p < is_rest.size(); ++p) {
      if (!is_rest[p]) continue;
      const std::uint32_t root = sets.root(p);
      if (root == p) {
        stretch_of[p] = static_cast<std::uint32_t>(labels_.stretches.size());
        labels_.stretches.emplace_back();
      }
      stretch_of[p] = stretch_of[root];
    }
  }

  const PatchedMesh& in_;
  std::vector<std::uint32_t> round_of_;
  Labels labels_;
  double facet_rise_ = 0;
};

}  // namespace

Labels label_patches(const PatchedMesh& in, const std::vector<Region>& rounds) {
  return Labeller(in, rounds).run();
}

std::vector<std::vector<std::uint32_t>> triangles_of(const Labels& labels) {
  std::vector<std::vector<std::uint32_t>> all(labels.stretches.size());
  for (std::uint32_t t = 0; t < labels.of_triangle.size(); ++t) {
    all[labels.of_triangle[t]].push_back(t);
  }
  return all;
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
  for (std::size_t i = 0; i < numbers.size(); i += every) points.push_back(mesh.vertices[numbers[i]]);
  return points;
}

Surface refitted(const Surface& surface, std::span<const Vec3> points) {
  if (surface.kind == SurfaceKind::other || points.size() < 3) return surface;
  if (surface.kind == SurfaceKind::plane) {
    return fit_plane(points, surface.axis).value_or(surface);
  }
  return fit_round(surface, points).value_or(surface);
}

}  // namespace standpoint
