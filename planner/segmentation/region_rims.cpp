#include "planner/segmentation/region_rims.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

class Rims {
 public:
  Rims(const PatchedMesh& in, const Labels& labels)
      : in_(in), mesh_(in.mesh), labels_(labels), all_(labels.stretches.size()) {}

  std::vector<std::vector<Loop>> run() {
    place_vertices();
    std::vector<bool> is_met(mesh_.across.size(), false);
    std::vector<std::uint32_t> round;
    for (std::uint32_t first = 0; first < is_met.size(); ++first) {
      if (is_met[first] || !is_rim(first)) continue;
      round.clear();
      for (std::uint32_t s = first; !is_met[s]; s = next(s)) {
        is_met[s] = true;
        round.push_back(s);
      }
      all_[labels_.of_triangle[first / 3]].push_back(loop_of(round));
    }
    return std::move(all_);
  }

 private:
  /// The stretch beyond a side, or nobody.
  [[nodiscard]] std::uint32_t beyond(std::uint32_t side) const {
    const std::uint32_t other = mesh_.across[side];
    return other == kNobody ? kNobody : labels_.of_triangle[other / 3];
  }

  [[nodiscard]] bool is_rim(std::uint32_t side) const {
    return beyond(side) != labels_.of_triangle[side / 3];
  }

  /// The rim's side that begins where this one ends.
  [[nodiscard]] std::uint32_t next(std::uint32_t side) const {
    const auto after = [](std::uint32_t s) { return s % 3 == 2 ? s - 2 : s + 1; };
    std::uint32_t s = after(side);
    while (!is_rim(s)) s = after(mesh_.across[s]);
    return s;
  }

  /// Brings each vertex of a rim onto the surfaces that meet there.
  void place_vertices() {
    std::vector<std::pair<std::uint32_t, std::uint32_t>> meets;
    for (std::uint32_t s = 0; s < mesh_.across.size(); ++s) {
      if (!is_rim(s)) continue;
      meets.emplace_back(mesh_.corner(s), labels_.of_triangle[s / 3]);
      meets.emplace_back(mesh_.end(s), labels_.of_triangle[s / 3]);
    }
    std::sort(meets.begin(), meets.end());
    meets.erase(std::unique(meets.begin(), meets.end()), meets.end());
    placed_ = mesh_.vertices;
    std::vector<const Surface*> surfaces;
    for (std::size_t from = 0; from < meets.size();) {
      const std::uint32_t vertex = meets[from].first;
      surfaces.clear();
      for (; from < meets.size() && meets[from].first == vertex; ++from) {
        const Surface& surface = labels_.stretches[meets[from].second].surface;
        if (surface.kind != SurfaceKind::other) surfaces.push_back(&surface);
      }
      placed_[vertex] = brought_onto(surfaces, mesh_.vertices[vertex]);
    }
  }

  /// Least squares of the distances, held where surfaces are so near tangent that they would send
  /// the point far along them.
  [[nodiscard]] Vec3 brought_onto(const std::vector<const Surface*>& surfaces,
                                  const Vec3& from) const {
    constexpr double kHeld = 0.01;
    Vec3 point = from;
    for (int step = 0; step < 6; ++step) {
      Mat3 matrix = kHeld * Mat3::Identity();
      Vec3 right = Vec3::Zero();
      for (const Surface* surface : surfaces) {
        const Vec3 n = outward(*surface, point);
        matrix += n * n.transpose();
        right -= distance(*surface, point) * n;
      }
      point += matrix.ldlt().solve(right);
    }
    return (point - from).norm() <= 3 * in_.within ? point : from;
  }

  [[nodiscard]] Vec3 normal_at(std::uint32_t side, const Vec3& point) const {
    const Stretch& stretch = labels_.stretches[labels_.of_triangle[side / 3]];
    if (stretch.surface.kind == SurfaceKind::other)
      return mesh_.area_vectors[side / 3].normalized();
    return (stretch.hollow ? -1 : 1) * outward(stretch.surface, point);
  }

  [[nodiscard]] bool is_fitted(std::uint32_t side) const {
    return labels_.stretches[labels_.of_triangle[side / 3]].surface.kind != SurfaceKind::other;
  }

  /// Convex where positive: the sides run round the material on the left.
  [[nodiscard]] double bend_at(std::uint32_t side) const {
    const Vec3& p = mesh_.vertices[mesh_.corner(side)];
    const Vec3& q = mesh_.vertices[mesh_.end(side)];
    const Vec3 middle = 0.5 * (p + q);
    const Vec3 mine = normal_at(side, middle), other = normal_at(mesh_.across[side], middle);
    const double angle = angle_between(mine, other);
    return mine.cross(other).dot(q - p) < 0 ? -angle : angle;
  }

  /// The angle below which two stretches count as tangent. Where a plane touches a round, scatter
  /// hides where one ends and the other begins: over the angle in which the round falls away by it.
  [[nodiscard]] double smooth_between(std::uint32_t side) const {
    if (!is_fitted(side) || !is_fitted(mesh_.across[side])) return tolerance::kSmoothFacets;
    double smooth = tolerance::kSmoothFitted;
    for (const std::uint32_t s : {side, mesh_.across[side]}) {
      const Surface& surface = labels_.stretches[labels_.of_triangle[s / 3]].surface;
      if (surface.kind == SurfaceKind::plane) continue;
      smooth =
          std::max(smooth, tolerance::kSmoothFitted + std::sqrt(4 * in_.scatter / surface.radius));
    }
    return std::min(smooth, tolerance::kSmoothFacets);
  }

  [[nodiscard]] EdgeBend bend_of(const std::vector<std::uint32_t>& sides) const {
    if (beyond(sides[0]) == kNobody) return EdgeBend::open;
    double sum = 0, length = 0;
    for (const std::uint32_t s : sides) {
      const double mine = (mesh_.vertices[mesh_.end(s)] - mesh_.vertices[mesh_.corner(s)]).norm();
      sum += mine * bend_at(s);
      length += mine;
    }
    const double mean = length > 0 ? sum / length : 0;
    const double smooth = smooth_between(sides[0]);
    if (std::abs(mean) < smooth) return EdgeBend::smooth;
    return mean > 0 ? EdgeBend::convex : EdgeBend::concave;
  }

  [[nodiscard]] Edge edge_of(const std::vector<std::uint32_t>& sides) const {
    Edge edge;
    if (beyond(sides[0]) != kNobody) edge.beyond = beyond(sides[0]);
    edge.bend = bend_of(sides);
    for (const std::uint32_t s : sides) edge.points.push_back(placed_[mesh_.corner(s)]);
    edge.points.push_back(placed_[mesh_.end(sides.back())]);
    return edge;
  }

  [[nodiscard]] Loop loop_of(std::vector<std::uint32_t>& round) const {
    // Begin where the face beyond changes, if it does.
    for (std::size_t i = 0; i < round.size(); ++i) {
      if (beyond(round[i]) != beyond(round[(i + round.size() - 1) % round.size()])) {
        std::rotate(round.begin(), round.begin() + static_cast<std::ptrdiff_t>(i), round.end());
        break;
      }
    }
    Loop loop;
    std::vector<std::uint32_t> sides;
    for (std::size_t i = 0; i < round.size(); ++i) {
      sides.push_back(round[i]);
      if (i + 1 == round.size() || beyond(round[i + 1]) != beyond(round[i])) {
        loop.push_back(edge_of(sides));
        sides.clear();
      }
    }
    return loop;
  }

  const PatchedMesh& in_;
  const JoinedMesh& mesh_;
  const Labels& labels_;
  std::vector<Vec3> placed_;
  std::vector<std::vector<Loop>> all_;
};

}  // namespace

std::vector<std::vector<Loop>> rims_of(const PatchedMesh& in, const Labels& labels) {
  return Rims(in, labels).run();
}

}  // namespace standpoint
