#include "planner/segmentation/flat_patches.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <queue>

#include <Eigen/Eigenvalues>

#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

/// The corners of some triangles, each with a third of a weight: moments about their mean.
struct Moments {
  double weight = 0;
  Vec3 mean = Vec3::Zero();
  Mat3 scatter = Mat3::Zero();
  Vec3 area = Vec3::Zero();
  double misfit = 0;  ///< sum of squared distances from the best plane
};

Moments of_triangle(const JoinedMesh& mesh, std::size_t t) {
  Moments m;
  m.weight = 1;
  for (const std::uint32_t v : mesh.triangles[t]) m.mean += mesh.vertices[v] / 3;
  for (const std::uint32_t v : mesh.triangles[t]) {
    const Vec3 d = mesh.vertices[v] - m.mean;
    m.scatter += d * d.transpose() / 3;
  }
  m.area = mesh.area_vectors[t];
  return m;
}

/// Moments of both together (Chan, Golub and LeVeque, Amer. Statistician 37, 1983, eq. 2.1).
Moments joined(const Moments& a, const Moments& b) {
  Moments m;
  m.weight = a.weight + b.weight;
  const Vec3 apart = b.mean - a.mean;
  m.mean = a.mean + b.weight / m.weight * apart;
  m.scatter = a.scatter + b.scatter + a.weight * b.weight / m.weight * apart * apart.transpose();
  m.area = a.area + b.area;
  // The iterative solver: the closed form loses half the digits of the least eigenvalue.
  m.misfit =
      Eigen::SelfAdjointEigenSolver<Mat3>(m.scatter, Eigen::EigenvaluesOnly).eigenvalues()[0];
  return m;
}

struct Offer {
  double cost;
  std::uint32_t side;
  bool operator<(const Offer& other) const {
    return cost != other.cost ? cost > other.cost : side > other.side;
  }
};

class Joiner {
 public:
  Joiner(const JoinedMesh& mesh, double scatter) : mesh_(mesh), scatter_(scatter) {
    root_.resize(mesh.triangles.size());
    std::iota(root_.begin(), root_.end(), 0U);
    moments_.reserve(root_.size());
    for (std::size_t t = 0; t < root_.size(); ++t) moments_.push_back(of_triangle(mesh, t));
  }

  std::vector<std::uint32_t> run() {
    for (std::uint32_t s = 0; s < mesh_.across.size(); ++s) {
      if (mesh_.across[s] != kNobody && s < mesh_.across[s]) offer(s);
    }
    while (!offers_.empty()) {
      const Offer top = offers_.top();
      offers_.pop();
      take(top);
    }
    for (std::uint32_t t = 0; t < root_.size(); ++t) root_[t] = root_of(t);
    return root_;
  }

 private:
  std::uint32_t root_of(std::uint32_t t) {
    while (root_[t] != t) t = root_[t] = root_[root_[t]];
    return t;
  }

  /// Too narrow for scatter to leave it a direction.
  [[nodiscard]] bool has_no_direction(const Moments& m) const {
    const double length = std::sqrt(m.scatter.trace() / m.weight);
    return m.area.norm() < tolerance::kWidthForDirection * scatter_ * length;
  }

  [[nodiscard]] bool may_join(const Moments& a, const Moments& b) const {
    return has_no_direction(a) || has_no_direction(b) ||
           a.area.dot(b.area) > 0.5 * a.area.norm() * b.area.norm();
  }

  void offer(std::uint32_t side) {
    const std::uint32_t a = root_of(side / 3), b = root_of(mesh_.across[side] / 3);
    if (a == b || !may_join(moments_[a], moments_[b])) return;
    const double cost =
        joined(moments_[a], moments_[b]).misfit - moments_[a].misfit - moments_[b].misfit;
    if (cost <= tolerance::kFlatGrowth * scatter_ * scatter_) offers_.push({cost, side});
  }

  /// Joins where the offer still holds; what it costs may have grown since it was made.
  void take(const Offer& top) {
    const std::uint32_t a = root_of(top.side / 3), b = root_of(mesh_.across[top.side] / 3);
    if (a == b) return;
    Moments both = joined(moments_[a], moments_[b]);
    const double cost = both.misfit - moments_[a].misfit - moments_[b].misfit;
    const double grown = cost - top.cost;
    if (grown > 0.1 * scatter_ * scatter_ && !offers_.empty() && cost > offers_.top().cost) {
      offer(top.side);
      return;
    }
    if (cost > tolerance::kFlatGrowth * scatter_ * scatter_) return;
    if (!may_join(moments_[a], moments_[b])) return;
    const auto [low, high] = std::minmax(a, b);
    root_[high] = low;
    moments_[low] = both;
  }

  const JoinedMesh& mesh_;
  double scatter_;
  std::vector<std::uint32_t> root_;
  std::vector<Moments> moments_;
  std::priority_queue<Offer> offers_;
};

void find_beside(const JoinedMesh& mesh, Patches& patches) {
  for (std::uint32_t s = 0; s < mesh.across.size(); ++s) {
    if (mesh.across[s] == kNobody) continue;
    const std::uint32_t mine = patches.of_triangle[s / 3];
    const std::uint32_t other = patches.of_triangle[mesh.across[s] / 3];
    if (mine == other) continue;
    const double length = (mesh.vertices[mesh.end(s)] - mesh.vertices[mesh.corner(s)]).norm();
    patches.all[mine].beside.push_back({other, length});
  }
  for (Patch& patch : patches.all) {
    auto& beside = patch.beside;
    std::sort(beside.begin(), beside.end(),
              [](const Beside& a, const Beside& b) { return a.patch < b.patch; });
    std::size_t kept = 0;
    for (std::size_t i = 0; i < beside.size(); ++i) {
      if (kept > 0 && beside[kept - 1].patch == beside[i].patch) {
        beside[kept - 1].length += beside[i].length;
      } else {
        beside[kept++] = beside[i];
      }
    }
    beside.resize(kept);
    std::stable_sort(beside.begin(), beside.end(),
                     [](const Beside& a, const Beside& b) { return a.length > b.length; });
  }
}

}  // namespace

Patches find_flat_patches(const JoinedMesh& mesh, double scatter) {
  Patches patches;
  patches.of_triangle = Joiner(mesh, scatter).run();
  std::vector<std::uint32_t> number(mesh.triangles.size(), kNobody);
  for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
    std::uint32_t& mine = number[patches.of_triangle[t]];
    if (mine == kNobody) {
      mine = static_cast<std::uint32_t>(patches.all.size());
      patches.all.emplace_back();
    }
    patches.of_triangle[t] = mine;
    Patch& patch = patches.all[mine];
    patch.area += mesh.area_vectors[t];
    patch.triangles.push_back(t);
    patch.vertices.insert(patch.vertices.end(), mesh.triangles[t].begin(), mesh.triangles[t].end());
  }
  for (Patch& patch : patches.all) {
    std::sort(patch.vertices.begin(), patch.vertices.end());
    patch.vertices.erase(std::unique(patch.vertices.begin(), patch.vertices.end()),
                         patch.vertices.end());
    for (const std::uint32_t v : patch.vertices) patch.middle += mesh.vertices[v];
    patch.middle /= static_cast<double>(patch.vertices.size());
  }
  find_beside(mesh, patches);
  return patches;
}

}  // namespace standpoint
