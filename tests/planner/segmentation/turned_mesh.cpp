#include "tests/planner/segmentation/turned_mesh.h"

#include <cmath>
#include <numbers>
#include <numeric>

#include "tests/draw.h"

namespace standpoint::test {

Mesh turned(const std::vector<ProfilePoint>& profile, int facets) {
  Mesh mesh;
  const std::size_t n = profile.size();
  const auto steps = static_cast<std::size_t>(facets);
  std::vector<std::size_t> first(n);  // on the axis one vertex, else a ring
  for (std::size_t i = 0; i < n; ++i) {
    first[i] = mesh.vertices.size();
    const auto [r, z] = profile[i];
    for (std::size_t k = 0; k < (r == 0 ? 1 : steps); ++k) {
      const double angle = 2 * std::numbers::pi * static_cast<double>(k) / facets;
      mesh.vertices.emplace_back(r * std::cos(angle), r * std::sin(angle), z);
    }
  }
  const auto at = [&](std::size_t i, std::size_t k) {
    return static_cast<std::uint32_t>(first[i] + (profile[i].first == 0 ? 0 : k % steps));
  };
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t j = (i + 1) % n;
    if (profile[i].first == 0 && profile[j].first == 0) continue;
    for (std::size_t k = 0; k < steps; ++k) {
      if (profile[i].first > 0) mesh.triangles.push_back({at(i, k), at(i, k + 1), at(j, k + 1)});
      if (profile[j].first > 0) mesh.triangles.push_back({at(i, k), at(j, k + 1), at(j, k)});
    }
  }
  return mesh;
}

Mesh prism(int sides, double radius, double height) {
  return turned({{0, 0}, {radius, 0}, {radius, height}, {0, height}}, sides);
}

std::vector<ProfilePoint> arc(double r, double z, double radius, double from_deg, double to_deg,
                              int steps) {
  std::vector<ProfilePoint> points;
  for (int i = 0; i <= steps; ++i) {
    const double angle = (from_deg + (to_deg - from_deg) * i / steps) * std::numbers::pi / 180;
    const double off = r + radius * std::cos(angle);
    points.emplace_back(std::abs(off) < 1e-9 ? 0 : off, z + radius * std::sin(angle));
  }
  return points;
}

std::vector<ProfilePoint> finer(const std::vector<ProfilePoint>& profile, int n) {
  std::vector<ProfilePoint> fine;
  for (std::size_t i = 0; i < profile.size(); ++i) {
    const auto [r, z] = profile[i];
    const auto [r2, z2] = profile[(i + 1) % profile.size()];
    for (int k = 0; k < n; ++k) {
      fine.emplace_back(r + (r2 - r) * k / n, z + (z2 - z) * k / n);
    }
  }
  return fine;
}

Mesh moved(Mesh mesh, const Pose& pose) {
  for (Vec3& v : mesh.vertices) v = pose * v;
  return mesh;
}

Mesh scattered(Mesh mesh, double sigma, unsigned seed) {
  Draw draw(seed);
  for (Vec3& v : mesh.vertices) {
    for (int i = 0; i < 3; ++i) v[i] += sigma * draw.normal();
  }
  return mesh;
}

Mesh reordered(const Mesh& mesh, unsigned seed) {
  Draw draw(seed);
  std::vector<std::size_t> order(mesh.triangles.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[draw.below(i)]);
  Mesh other;
  for (const std::size_t t : order) {
    const std::size_t turn = draw.below(3);
    const auto base = static_cast<std::uint32_t>(other.vertices.size());
    for (std::size_t k = 0; k < 3; ++k) {
      other.vertices.push_back(mesh.vertices[mesh.triangles[t][(k + turn) % 3]]);
    }
    other.triangles.push_back({base, base + 1, base + 2});
  }
  return other;
}

Mesh both(Mesh a, const Mesh& b) {
  const auto base = static_cast<std::uint32_t>(a.vertices.size());
  a.vertices.insert(a.vertices.end(), b.vertices.begin(), b.vertices.end());
  for (const auto& t : b.triangles) a.triangles.push_back({t[0] + base, t[1] + base, t[2] + base});
  return a;
}

}  // namespace standpoint::test
