#include "geometry/mesh_defects.h"

#include <algorithm>
#include <functional>
#include <limits>

#include "geometry/by_vertex.h"
#include "geometry/same_place.h"
#include "geometry/tolerances.h"

namespace standpoint {
namespace {

using Corners = std::array<std::uint32_t, 3>;

/// Whether the third corner is no farther off the longest side than coordinates are rounded.
bool is_flat(const std::array<Vec3, 3>& corners) {
  const Vec3 a = corners[1] - corners[0];
  const Vec3 b = corners[2] - corners[0];
  const double longest = std::max({a.norm(), b.norm(), (corners[2] - corners[1]).norm()});
  const double reach = std::max({corners[0].cwiseAbs().maxCoeff(), corners[1].cwiseAbs().maxCoeff(),
                                 corners[2].cwiseAbs().maxCoeff()});
  return a.cross(b).norm() <= tolerance::flat_height(reach) * longest;
}

void count_edges(const std::vector<Corners>& triangles, std::size_t vertices,
                 MeshDefects& defects) {
  auto edges = by_vertex<std::uint32_t>(vertices, [&](const auto& put) {
    for (const Corners& t : triangles) {
      if (!is_collapsed(t)) {
        for (std::size_t side = 0; side < 3; ++side) {
          const auto [low, high] = std::minmax(t[side], t[(side + 1) % 3]);
          put(low, high);
        }
      }
    }
  });
  for_each_run(edges, std::equal_to<>(), [&](auto from, auto to) {
    const auto triangles_here = to - from;
    defects.open_edges += triangles_here == 1 ? 1 : 0;
    defects.crowded_edges += triangles_here >= 3 ? 1 : 0;
  });
}

void count_duplicates(const std::vector<Corners>& triangles, std::size_t vertices,
                      MeshDefects& defects) {
  using Others = std::array<std::uint32_t, 2>;
  auto lists = by_vertex<Others>(vertices, [&](const auto& put) {
    for (Corners t : triangles) {
      std::sort(t.begin(), t.end());
      put(t[0], Others{t[1], t[2]});
    }
  });
  for_each_run(lists, std::equal_to<>(), [&](auto from, auto to) {
    defects.duplicate_triangles += static_cast<std::size_t>(to - from) - 1;
  });
}

}  // namespace

MeshDefects find_defects(const Mesh& mesh) {
  MeshDefects defects;
  defects.non_finite_vertices = static_cast<std::size_t>(std::count_if(
      mesh.vertices.begin(), mesh.vertices.end(), [](const Vec3& v) { return !v.allFinite(); }));
  const std::vector<Corners> triangles = joined_triangles(mesh);
  for (std::size_t i = 0; i < triangles.size(); ++i) {
    defects.degenerate_triangles += is_collapsed(triangles[i]) || is_flat(mesh.corners(i)) ? 1 : 0;
  }
  count_edges(triangles, mesh.vertices.size(), defects);
  count_duplicates(triangles, mesh.vertices.size(), defects);
  return defects;
}

}  // namespace standpoint
