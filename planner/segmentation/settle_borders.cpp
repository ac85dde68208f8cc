// The second half of labels.h: what is decided triangle by triangle.

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

#include "planner/segmentation/free_forms.h"
#include "planner/segmentation/labels.h"
#include "planner/segmentation/rim_layers.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kPoints = 4000;
constexpr int kMostBorderLayers = 12;
/// What a triangle beside the rest may cost where it is, in squares of scatters: three corners cost
/// 3 on average, and 1 of 7000 costs 25 and its lean.
constexpr double kOutside = 25;
constexpr double kNever = std::numeric_limits<double>::infinity();

class Settler {
 public:
  Settler(const PatchedMesh& in, Labels& labels) : in_(in), labels_(labels) {}

  void run() {
    refit();
    for (int round = 0; round < 3; ++round) {
      const bool has_absorbed = absorb_crumbs();
      const bool has_moved = sweep() || has_absorbed;
      const bool has_joined = join_neighbours();
      if (has_moved || has_joined) refit();
      const bool has_peeled = in_.is_scattered && peel_borders();
      if (!has_moved && !has_joined && !has_peeled) break;
    }
    part_pieces();
    absorb_crumbs();
    for (int round = 0; round < 2 && sweep(); ++round) refit();
    if (in_.is_scattered) peel_borders();
    drop_empty();
  }

 private:
  [[nodiscard]] const Stretch& stretch(std::uint32_t s) const { return labels_.stretches[s]; }

  void refit() {
    const auto triangles = triangles_of(labels_);
    for (std::size_t s = 0; s < triangles.size(); ++s) {
      Surface& surface = labels_.stretches[s].surface;
      surface = refitted(surface, corners_of(in_.mesh, triangles[s], kPoints));
    }
  }

  /// What it costs to have a triangle on a stretch: squares in scatters, and how it leans.
  [[nodiscard]] double cost(std::uint32_t t, std::uint32_t s) const {
    const Surface& surface = stretch(s).surface;
    if (surface.kind == SurfaceKind::other) return kNever;
    const auto& corners = in_.mesh.triangles[t];
    double sum = 0, longest = 0;
    Vec3 middle = Vec3::Zero();
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3& p = in_.mesh.vertices[corners[k]];
      const double d = std::abs(distance(surface, p));
      if (d > 1.5 * in_.within) return kNever;
      sum += d * d / (in_.scatter * in_.scatter);
      middle += p / 3;
      longest = std::max(longest, (in_.mesh.vertices[corners[(k + 1) % 3]] - p).norm());
    }
    const double width = 2 * in_.mesh.area_vectors[t].norm() / std::max(longest, 1e-12);
    const Vec3 out = (stretch(s).hollow ? -1 : 1) * outward(surface, middle);
    const double lean = angle_between(out, in_.mesh.area_vectors[t]);
    const double sure = tolerance::kFacetLean + 3 * in_.scatter / std::max(width, 1e-12);
    if (lean > 1.5 * sure) return kNever;
    return sum + 9 * (lean / sure) * (lean / sure);
  }

  /// The rest keeps its triangles, but for slivers that scatter has torn out of a surface.
  [[nodiscard]] std::vector<bool> find_slivers() const {
    std::vector<double> area(labels_.stretches.size(), 0), rim(area);
    for (std::uint32_t t = 0; t < labels_.of_triangle.size(); ++t) {
      const std::uint32_t mine = labels_.of_triangle[t];
      area[mine] += in_.mesh.area_vectors[t].norm();
      for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
        const std::uint32_t other = in_.mesh.across[s];
        if (other != kNobody && labels_.of_triangle[other / 3] == mine) continue;
        rim[mine] +=
            (in_.mesh.vertices[in_.mesh.end(s)] - in_.mesh.vertices[in_.mesh.corner(s)]).norm();
      }
    }
    std::vector<bool> is_sliver(area.size());
    for (std::size_t s = 0; s < area.size(); ++s) {
      is_sliver[s] = stretch(static_cast<std::uint32_t>(s)).surface.kind == SurfaceKind::other &&
                     2 * area[s] < tolerance::kWidthForDirection * in_.scatter * rim[s];
    }
    return is_sliver;
  }

  bool sweep() {
    const std::vector<bool> is_sliver = find_slivers();
    bool has_moved = false;
    for (int pass = 0; pass < 4; ++pass) {
      bool moves = false;
      for (std::uint32_t t = 0; t < labels_.of_triangle.size(); ++t) moves |= move(t, is_sliver);
      has_moved |= moves;
      if (!moves) break;
    }
    return has_moved;
  }

  bool move(std::uint32_t t, const std::vector<bool>& is_sliver) {
    const std::uint32_t mine = labels_.of_triangle[t];
    if (stretch(mine).surface.kind == SurfaceKind::other && !is_sliver[mine]) return false;
    std::optional<double> now;
    std::uint32_t best = mine;
    double least = 0;
    for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
      if (in_.mesh.across[s] == kNobody) continue;
      const std::uint32_t other = labels_.of_triangle[in_.mesh.across[s] / 3];
      if (other == mine || other == best) continue;
      if (!now) least = *(now = cost(t, mine));
      const bool is_rest = stretch(other).surface.kind == SurfaceKind::other;
      const double there =
          is_rest && in_.is_scattered && !is_sliver[other] ? kOutside : cost(t, other);
      if (there < least - 0.5 || (there < kNever && least == kNever)) {
        least = there;
        best = other;
      }
    }
    labels_.of_triangle[t] = best;
    return best != mine;
  }

  /// Gives rows of what a stretch is tangent to back to it, or to the rest: those along a border
  /// whose vertices lie on one side of the stretch, and not so of its neighbour.
  bool peel_borders() {
    bool has_peeled = false;
    for (int layer = 0; layer < kMostBorderLayers; ++layer) {
      const auto triangles = triangles_of(labels_);
      std::vector<std::uint32_t> changed;
      for (const auto& [pair, vertices] : borders()) {
        if (!changed.empty() && changed.back() == pair.first) continue;  // one at a time
        if (is_row_of(pair.first, pair.second, vertices) &&
            give_row(triangles[pair.first], pair.first, pair.second, vertices)) {
          changed.push_back(pair.first);
        }
      }
      if (changed.empty()) break;
      has_peeled = true;
      refit();
    }
    return has_peeled;
  }

  /// The vertices, ascending, at which a fitted stretch ends at another.
  using Borders = std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<std::uint32_t>>;
  [[nodiscard]] Borders borders() const {
    Borders all;
    for (std::uint32_t s = 0; s < in_.mesh.across.size(); ++s) {
      if (in_.mesh.across[s] == kNobody) continue;
      const std::uint32_t mine = labels_.of_triangle[s / 3];
      const std::uint32_t other = labels_.of_triangle[in_.mesh.across[s] / 3];
      if (mine == other || stretch(mine).surface.kind == SurfaceKind::other) continue;
      auto& vertices = all[{mine, other}];
      vertices.push_back(in_.mesh.corner(s));
      vertices.push_back(in_.mesh.end(s));
    }
    for (auto& [pair, vertices] : all) {
      std::sort(vertices.begin(), vertices.end());
      vertices.erase(std::unique(vertices.begin(), vertices.end()), vertices.end());
    }
    return all;
  }

  [[nodiscard]] bool is_row_of(std::uint32_t mine, std::uint32_t other,
                               const std::vector<std::uint32_t>& vertices) const {
    const double bias = std::abs(bias_of(in_, stretch(mine).surface, vertices));
    if (bias < tolerance::kLayerBias) return false;
    const Surface& beyond = stretch(other).surface;
    return beyond.kind == SurfaceKind::other || 2 * std::abs(bias_of(in_, beyond, vertices)) < bias;
  }

  bool give_row(const std::vector<std::uint32_t>& from, std::uint32_t mine, std::uint32_t to,
                const std::vector<std::uint32_t>& vertices) {
    const Surface& surface = stretch(mine).surface;
    const double bias = bias_of(in_, surface, vertices);
    std::vector<std::uint32_t> row;
    double area = 0, all = 0;
    for (const std::uint32_t t : from) {
      all += in_.mesh.area_vectors[t].norm();
      const auto& corners = in_.mesh.triangles[t];
      const bool is_on_border = std::any_of(corners.begin(), corners.end(), [&](auto v) {
        return is_off_with(in_, surface, v, bias) &&
               std::binary_search(vertices.begin(), vertices.end(), v);
      });
      if (!is_on_border) continue;
      if (stretch(to).surface.kind != SurfaceKind::other && cost(t, to) == kNever) continue;
      row.push_back(t);
      area += in_.mesh.area_vectors[t].norm();
    }
    if (row.empty() || area > tolerance::kLayerShare * all) return false;
    for (const std::uint32_t t : row) labels_.of_triangle[t] = to;
    return true;
  }

  /// Scatter tears small stretches out of surfaces; each goes back to the neighbour it lies on.
  bool absorb_crumbs() {
    const auto triangles = triangles_of(labels_);
    bool has_moved = false;
    for (std::uint32_t s = 0; s < triangles.size(); ++s) {
      const SurfaceKind kind = stretch(s).surface.kind;
      if (kind != SurfaceKind::plane && kind != SurfaceKind::other) continue;
      if (triangles[s].empty() || triangles[s].size() > 3 * tolerance::kCrumbVertices) continue;
      const std::optional<std::uint32_t> home = home_of(triangles[s], s);
      if (!home) continue;
      for (const std::uint32_t t : triangles[s]) labels_.of_triangle[t] = *home;
      has_moved = true;
    }
    return has_moved;
  }

  /// The neighbour along a quarter of a crumb's rim or more that holds its vertices best.
  [[nodiscard]] std::optional<std::uint32_t> home_of(const std::vector<std::uint32_t>& crumb,
                                                     std::uint32_t mine) const {
    std::map<std::uint32_t, double> along;
    double rim = 0, area = 0;
    Vec3 sum = Vec3::Zero(), middle = Vec3::Zero();
    for (const std::uint32_t t : crumb) {
      area += in_.mesh.area_vectors[t].norm();
      sum += in_.mesh.area_vectors[t];
      for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
        const Vec3& p = in_.mesh.vertices[in_.mesh.corner(s)];
        middle += p / (3 * static_cast<double>(crumb.size()));
        const std::uint32_t other = in_.mesh.across[s];
        if (other != kNobody && labels_.of_triangle[other / 3] == mine) continue;
        const double length = (in_.mesh.vertices[in_.mesh.end(s)] - p).norm();
        rim += length;
        if (other != kNobody) along[labels_.of_triangle[other / 3]] += length;
      }
    }
    const std::vector<Vec3> points = corners_of(in_.mesh, crumb, kPoints);
    const bool is_narrow = 2 * area < tolerance::kCrumbWidth * in_.scatter * rim;
    if (points.size() > tolerance::kCrumbVertices && !is_narrow) return std::nullopt;
    std::optional<std::uint32_t> best;
    double least = kNever;
    for (const auto& [other, length] : along) {
      const Surface& surface = stretch(other).surface;
      if (surface.kind == SurfaceKind::other || length < 0.25 * rim) continue;
      const Misfit misfit = misfit_of(surface, points);
      if (misfit.worst > 1.5 * in_.within) continue;
      const Vec3 out = (stretch(other).hollow ? -1 : 1) * outward(surface, middle);
      const double lean = angle_between(out, sum);
      if (lean > tolerance::kCrumbLean && !is_narrow) continue;
      const double cost = misfit.rms / in_.scatter + lean / tolerance::kFacetLean;
      if (cost < least) {
        least = cost;
        best = other;
      }
    }
    return best;
  }

  /// Neighbours of one kind whose vertices one surface holds as well as two do.
  bool join_neighbours() {
    const auto triangles = triangles_of(labels_);
    std::map<std::pair<std::uint32_t, std::uint32_t>, bool> pairs;
    for (std::uint32_t s = 0; s < in_.mesh.across.size(); ++s) {
      if (in_.mesh.across[s] == kNobody) continue;
      const std::uint32_t a = labels_.of_triangle[s / 3];
      const std::uint32_t b = labels_.of_triangle[in_.mesh.across[s] / 3];
      if (a < b && stretch(a).surface.kind == stretch(b).surface.kind &&
          stretch(a).surface.kind != SurfaceKind::other) {
        pairs[{a, b}] = true;
      }
    }
    std::vector<std::uint32_t> goes_to(labels_.stretches.size(), kNobody);
    std::vector<bool> is_used(labels_.stretches.size(), false);
    bool has_joined = false;
    for (const auto& [pair, unused] : pairs) {
      const auto [a, b] = pair;
      if (is_used[a] || is_used[b] || !are_one(a, b, triangles)) continue;
      is_used[a] = is_used[b] = has_joined = true;
      const bool keeps_first = triangles[a].size() >= triangles[b].size();
      goes_to[keeps_first ? b : a] = keeps_first ? a : b;
    }
    for (std::uint32_t& s : labels_.of_triangle) {
      if (goes_to[s] != kNobody) s = goes_to[s];
    }
    return has_joined;
  }

  [[nodiscard]] bool are_one(std::uint32_t a, std::uint32_t b,
                             const std::vector<std::vector<std::uint32_t>>& triangles) const {
    if (triangles[a].empty() || triangles[b].empty()) return false;
    if (stretch(a).hollow != stretch(b).hollow) return false;
    std::vector<Vec3> points = corners_of(in_.mesh, triangles[a], kPoints);
    const std::vector<Vec3> others = corners_of(in_.mesh, triangles[b], kPoints);
    points.insert(points.end(), others.begin(), others.end());
    const Surface& larger = stretch(triangles[a].size() >= triangles[b].size() ? a : b).surface;
    if (larger.kind == SurfaceKind::plane &&
        stretch(a).surface.axis.dot(stretch(b).surface.axis) < 0.9) {
      return false;
    }
    const Misfit misfit = misfit_of(refitted(larger, points), points);
    return misfit.worst <= 1.5 * in_.within && misfit.rms <= 2 * in_.scatter;
  }

  /// What has come apart becomes stretches of its own.
  void part_pieces() {
    std::vector<bool> is_met(labels_.of_triangle.size(), false), is_begun(labels_.stretches.size());
    std::vector<std::uint32_t> open;
    for (std::uint32_t first = 0; first < is_met.size(); ++first) {
      if (is_met[first]) continue;
      const std::uint32_t mine = labels_.of_triangle[first];
      std::uint32_t now = mine;
      if (is_begun[mine]) {
        now = static_cast<std::uint32_t>(labels_.stretches.size());
        labels_.stretches.push_back(Stretch(labels_.stretches[mine]));
        is_begun.push_back(true);
      }
      is_begun[mine] = true;
      is_met[first] = true;
      open.assign(1, first);
      while (!open.empty()) {
        const std::uint32_t t = open.back();
        open.pop_back();
        labels_.of_triangle[t] = now;
        for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
          if (in_.mesh.across[s] == kNobody) continue;
          const std::uint32_t other = in_.mesh.across[s] / 3;
          if (is_met[other] || labels_.of_triangle[other] != mine) continue;
          is_met[other] = true;
          open.push_back(other);
        }
      }
    }
    forget_crumbs();
  }

  /// Too few vertices, or too little of a sphere, to be a surface of their own.
  void forget_crumbs() {
    const auto triangles = triangles_of(labels_);
    for (std::size_t s = 0; s < triangles.size(); ++s) {
      Surface& surface = labels_.stretches[s].surface;
      if (surface.kind == SurfaceKind::other || surface.kind == SurfaceKind::plane) continue;
      if (corners_of(in_.mesh, triangles[s], kPoints).size() < 8) surface = Surface();
      if (surface.kind == SurfaceKind::sphere && !is_wide_cap(in_.mesh, surface, triangles[s]))
        surface = Surface();
    }
  }

  void drop_empty() {
    std::vector<std::uint32_t> number(labels_.stretches.size(), kNobody);
    std::vector<Stretch> kept;
    for (std::uint32_t& s : labels_.of_triangle) {
      if (number[s] == kNobody) {
        number[s] = static_cast<std::uint32_t>(kept.size());
        kept.push_back(labels_.stretches[s]);
      }
      s = number[s];
    }
    labels_.stretches = std::move(kept);
  }

  const PatchedMesh& in_;
  Labels& labels_;
};

}  // namespace

void settle_borders(const PatchedMesh& in, Labels& labels) {
  Settler(in, labels).run();
}

}  // namespace standpoint
