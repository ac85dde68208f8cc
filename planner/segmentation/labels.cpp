#include "planner/segmentation/labels.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "planner/segmentation/free_forms.h"
#include "planner/segmentation/mesh_noise.h"
#include "planner/segmentation/tolerances.h"

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
      : in_(in), rounds_(rounds), stretch_of_(in.patches.all.size(), kNobody) {
    std::vector<double> chords;
    for (std::uint32_t r = 0; r < rounds.size(); ++r) {
      if (rounds[r].bends >= kManyFacets) chords.push_back(rounds[r].chord);
      for (const std::uint32_t p : rounds[r].patches) stretch_of_[p] = r;
      labels_.stretches.push_back({rounds[r].surface, rounds[r].hollow, rounds[r].step_rad});
    }
    std::sort(chords.begin(), chords.end());
    labels_.chord = chords.empty() ? 0 : chords.back();
    // The upper quartile: one wrong region must not tell how coarse all is.
    const double chord = chords.empty() ? tolerance::kChordShare * diagonal(in.mesh)
                                        : 2 * chords[3 * chords.size() / 4];
    facet_rise_ = chord + in.scatter;
    piece_within_ = in.within + (chords.empty() ? 0 : chord / 2);
  }

  Labels run() {
    const std::size_t n = in_.patches.all.size();
    first_plane_ = static_cast<std::uint32_t>(labels_.stretches.size());
    std::vector<std::uint32_t> order;
    for (std::uint32_t p = 0; p < n; ++p) {
      if (stretch_of_[p] == kNobody && !is_sliver(p)) order.push_back(p);
    }
    std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
      return in_.patches.all[a].area.norm() > in_.patches.all[b].area.norm();
    });
    for (const std::uint32_t p : order) {
      if (stretch_of_[p] != kNobody) continue;
      const auto plane = fit_plane(vertices_of(in_, {p}, 2000), in_.patches.all[p].area);
      if (plane) grow_plane(p, *plane);
    }
    const std::vector<bool> is_facet = find_facets();
    std::vector<bool> is_rest(n, false);
    for (std::uint32_t p = 0; p < n; ++p) {
      is_rest[p] = stretch_of_[p] == kNobody || is_facet[stretch_of_[p]];
    }
    gather_rest(is_rest, stretch_of_);
    labels_.of_triangle.resize(in_.mesh.triangles.size());
    for (std::uint32_t t = 0; t < labels_.of_triangle.size(); ++t) {
      labels_.of_triangle[t] = stretch_of_[in_.patches.of_triangle[t]];
    }
    part_loose();
    return std::move(labels_);
  }

 private:
  /// Triangles in a round region's patches that its surface does not hold are rest for now.
  void part_loose() {
    std::vector<bool> is_held(in_.mesh.triangles.size(), false);
    for (const Region& region : rounds_) {
      for (const std::uint32_t t : region.triangles) is_held[t] = true;
    }
    const auto is_loose = [&](std::uint32_t t) {
      return labels_.of_triangle[t] < rounds_.size() && !is_held[t];
    };
    std::vector<std::uint32_t> loose;
    for (std::uint32_t t = 0; t < is_held.size(); ++t) {
      if (is_loose(t)) loose.push_back(t);
    }
    for (const std::uint32_t first : loose) {
      if (!is_loose(first)) continue;
      const auto mine = static_cast<std::uint32_t>(labels_.stretches.size());
      labels_.stretches.emplace_back();
      std::vector<std::uint32_t> open = {first};
      labels_.of_triangle[first] = mine;
      while (!open.empty()) {
        const std::uint32_t t = open.back();
        open.pop_back();
        for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
          const std::uint32_t other = in_.mesh.across[s];
          if (other == kNobody || !is_loose(other / 3)) continue;
          labels_.of_triangle[other / 3] = mine;
          open.push_back(other / 3);
        }
      }
    }
  }

  [[nodiscard]] double bend(std::uint32_t a, std::uint32_t b) const {
    return angle_between(in_.patches.all[a].area, in_.patches.all[b].area);
  }

  [[nodiscard]] bool is_sliver(std::uint32_t p) const {
    const Patch& patch = in_.patches.all[p];
    double rim = 0;
    for (const Beside& beside : patch.beside) rim += beside.length;
    return 2 * patch.area.norm() < tolerance::kWidthForDirection * in_.scatter * rim;
  }

  /// Which planes are facets: they bend gently to others of their size along much of their rim.
  [[nodiscard]] std::vector<bool> find_facets() const {
    const std::size_t n = labels_.stretches.size();
    std::vector<double> area(n, 0), rim(n, 0), gentle(n, 0);
    const auto for_each_edge = [&](const auto& call) {
      for (std::uint32_t p = 0; p < stretch_of_.size(); ++p) {
        const std::uint32_t mine = stretch_of_[p];
        if (mine == kNobody || mine < first_plane_) continue;
        for (const Beside& beside : in_.patches.all[p].beside) {
          if (stretch_of_[beside.patch] != mine) call(p, mine, beside);
        }
      }
    };
    for (std::uint32_t p = 0; p < stretch_of_.size(); ++p) {
      if (stretch_of_[p] != kNobody) area[stretch_of_[p]] += in_.patches.all[p].area.norm();
    }
    for_each_edge([&](std::uint32_t, std::uint32_t mine, const Beside& beside) {
      rim[mine] += beside.length;
    });
    for_each_edge([&](std::uint32_t p, std::uint32_t mine, const Beside& beside) {
      const std::uint32_t other = stretch_of_[beside.patch];
      if (other == kNobody || other < first_plane_) return;
      const double angle = bend(p, beside.patch);
      if (angle > tolerance::kWideStep || area[other] < tolerance::kFacetShare * area[mine]) return;
      const double width = 2 * std::max(area[mine] / rim[mine], area[other] / rim[other]);
      if (width * angle / 8 < facet_rise_) gentle[mine] += beside.length;
    });
    std::vector<bool> is_facet(n, false);
    for (std::size_t s = first_plane_; s < n; ++s) {
      is_facet[s] = gentle[s] > tolerance::kGentleRim * rim[s];
    }
    return is_facet;
  }

  /// A plane takes its neighbours that no other surface has and that are pieces of it.
  void grow_plane(std::uint32_t seed, const Surface& plane) {
    const auto mine = static_cast<std::uint32_t>(labels_.stretches.size());
    labels_.stretches.push_back({plane, false, 0});
    stretch_of_[seed] = mine;
    std::vector<std::uint32_t> members = {seed};
    for (std::size_t next = 0; next < members.size(); ++next) {
      for (const Beside& beside : in_.patches.all[members[next]].beside) {
        if (stretch_of_[beside.patch] != kNobody || !is_piece(beside.patch, plane)) continue;
        stretch_of_[beside.patch] = mine;
        members.push_back(beside.patch);
      }
    }
  }

  [[nodiscard]] bool is_piece(std::uint32_t p, const Surface& plane) const {
    const Patch& patch = in_.patches.all[p];
    if (!is_sliver(p) && angle_between(patch.area, plane.axis) > tolerance::kPieceLean) {
      return false;
    }
    return std::all_of(patch.vertices.begin(), patch.vertices.end(), [&](std::uint32_t v) {
      return std::abs(distance(plane, in_.mesh.vertices[v])) <= piece_within_;
    });
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
  const std::vector<Region>& rounds_;
  std::vector<std::uint32_t> stretch_of_;
  Labels labels_;
  std::uint32_t first_plane_ = 0;
  double facet_rise_ = 0;    ///< mm; an arc that rises more than this is not hidden in a facet
  double piece_within_ = 0;  ///< mm; how far a piece of a plane may be off it
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

Surface refitted(const Surface& surface, std::span<const Vec3> points) {
  if (surface.kind == SurfaceKind::other || points.size() < 3) return surface;
  if (surface.kind == SurfaceKind::plane) {
    return fit_plane(points, surface.axis).value_or(surface);
  }
  return fit_round(surface, points).value_or(surface);
}

}  // namespace standpoint
