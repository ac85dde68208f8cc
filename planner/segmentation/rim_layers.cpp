#include "planner/segmentation/rim_layers.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "planner/segmentation/surface_fit.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

/// A rim: its vertices, ascending, and how sure it is that they lie on one side.
struct Rim {
  std::vector<std::uint32_t> vertices;
  double bias = 0;
};

using Sides = std::vector<std::pair<std::uint32_t, std::uint32_t>>;

/// The sides beyond which the region does not go on, by the vertices that they begin at.
Sides rim_sides(const JoinedMesh& mesh, const std::vector<std::uint32_t>& triangles) {
  Sides sides;
  for (const std::uint32_t t : triangles) {
    for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
      const std::uint32_t other = mesh.across[s];
      if (other != kNobody && std::binary_search(triangles.begin(), triangles.end(), other / 3))
        continue;
      sides.emplace_back(mesh.corner(s), mesh.end(s));
    }
  }
  std::sort(sides.begin(), sides.end());
  return sides;
}

/// Vertices that rim sides join.
std::vector<Rim> rims_of(const Sides& sides) {
  std::vector<Rim> rims;
  std::vector<bool> is_met(sides.size(), false);
  const auto first_from = [&](std::uint32_t v) {
    return static_cast<std::size_t>(
        std::lower_bound(sides.begin(), sides.end(), std::pair{v, std::uint32_t{0}}) -
        sides.begin());
  };
  for (std::size_t i = 0; i < sides.size(); ++i) {
    if (is_met[i]) continue;
    Rim rim;
    std::vector<std::size_t> open = {i};
    is_met[i] = true;
    while (!open.empty()) {
      const auto [from, to] = sides[open.back()];
      open.pop_back();
      rim.vertices.push_back(from);
      for (std::size_t k = first_from(to); k < sides.size() && sides[k].first == to; ++k) {
        if (!is_met[k]) open.push_back(k);
        is_met[k] = true;
      }
    }
    std::sort(rim.vertices.begin(), rim.vertices.end());
    rim.vertices.erase(std::unique(rim.vertices.begin(), rim.vertices.end()), rim.vertices.end());
    rims.push_back(std::move(rim));
  }
  return rims;
}

}  // namespace

double bias_of(const PatchedMesh& in, const Surface& surface,
               const std::vector<std::uint32_t>& vertices) {
  if (vertices.empty()) return 0;
  double sum = 0;
  for (const std::uint32_t v : vertices) sum += distance(surface, in.mesh.vertices[v]);
  const double n = static_cast<double>(vertices.size()), off = sum / n / in.scatter;
  return std::abs(off) < tolerance::kLayerOff ? 0 : off * std::sqrt(n);
}

bool is_off_with(const PatchedMesh& in, const Surface& surface, std::uint32_t vertex, double bias) {
  return (bias < 0 ? -1 : 1) * distance(surface, in.mesh.vertices[vertex]) > 2 * in.scatter;
}

std::vector<std::uint32_t> peeled(const PatchedMesh& in, const Surface& surface,
                                  const std::vector<std::uint32_t>& triangles) {
  std::vector<Rim> rims = rims_of(rim_sides(in.mesh, triangles));
  const Rim* worst = nullptr;
  for (Rim& rim : rims) {
    rim.bias = bias_of(in, surface, rim.vertices);
    if (std::abs(rim.bias) > tolerance::kLayerBias &&
        (worst == nullptr || std::abs(rim.bias) > std::abs(worst->bias)))
      worst = &rim;
  }
  if (worst == nullptr) return triangles;
  std::vector<std::uint32_t> left;
  double area = 0, all = 0;
  for (const std::uint32_t t : triangles) {
    const auto& corners = in.mesh.triangles[t];
    all += in.mesh.area_vectors[t].norm();
    const bool is_on_rim = std::any_of(corners.begin(), corners.end(), [&](std::uint32_t v) {
      return is_off_with(in, surface, v, worst->bias) &&
             std::binary_search(worst->vertices.begin(), worst->vertices.end(), v);
    });
    if (is_on_rim) continue;
    left.push_back(t);
    area += in.mesh.area_vectors[t].norm();
  }
  return area < (1 - tolerance::kLayerShare) * all ? triangles : left;
}

}  // namespace standpoint
