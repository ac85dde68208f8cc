#include "geometry/mesh_defects.h"

#include <algorithm>
#include <limits>
#include <numeric>

#include "geometry/same_place.h"
#include "geometry/tolerances.h"

namespace standpoint {
namespace {

using Corners = std::array<std::uint32_t, 3>;

/// Lists of T, one for each vertex, packed behind one another (a counting sort by vertex).
template <class T>
struct ByVertex {
  std::vector<std::size_t> end_of;  ///< end_of[v] is where v's list ends and that of v + 1 begins
  std::vector<T> items;
};

/// `each(put)` must call put(vertex, item) for every item, and do so alike both times it is run.
template <class T, class Each>
ByVertex<T> by_vertex(std::size_t vertices, const Each& each) {
  ByVertex<T> lists;
  lists.end_of.assign(vertices + 1, 0);
  each([&](std::uint32_t vertex, const T&) { ++lists.end_of[vertex + 1]; });
  std::partial_sum(lists.end_of.begin(), lists.end_of.end(), lists.end_of.begin());
  lists.items.resize(lists.end_of.back());
  // Filling moves each start to its list's end.
  each([&](std::uint32_t vertex, const T& item) { lists.items[lists.end_of[vertex]++] = item; });
  return lists;
}

/// Calls `found(n)` once for each set of n equal items of one vertex.
template <class T, class Found>
void for_each_run(ByVertex<T>& lists, const Found& found) {
  auto from = lists.items.begin();
  for (std::size_t v = 0; v + 1 < lists.end_of.size(); ++v) {
    const auto to = lists.items.begin() + static_cast<std::ptrdiff_t>(lists.end_of[v]);
    std::sort(from, to);
    while (from != to) {
      const auto next = std::find_if(from, to, [&](const T& item) { return item != *from; });
      found(static_cast<std::size_t>(next - from));
      from = next;
    }
  }
}

bool is_collapsed(const Corners& t) {
  return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
}

/// Whether the third corner is no farther off the longest side than coordinates are rounded.
bool is_flat(const std::array<Vec3, 3>& corners) {
  const Vec3 a = corners[1] - corners[0];
  const Vec3 b = corners[2] - corners[0];
  const double longest = std::max({a.norm(), b.norm(), (corners[2] - corners[1]).norm()});
  const double reach = std::max({corners[0].cwiseAbs().maxCoeff(), corners[1].cwiseAbs().maxCoeff(),
                                 corners[2].cwiseAbs().maxCoeff()});
  return a.cross(b).norm() <= tolerance::flat_height(reach) * longest;
}

/// The triangles' corners with equal places made one vertex.
std::vector<Corners> joined_triangles(const Mesh& mesh) {
  const std::vector<std::uint32_t> place = first_at_same_place(mesh.vertices);
  std::vector<Corners> triangles(mesh.triangles.size());
  std::transform(mesh.triangles.begin(), mesh.triangles.end(), triangles.begin(),
                 [&](const Corners& t) -> Corners {
                   return {place[t[0]], place[t[1]], place[t[2]]};
                 });
  return triangles;
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
  for_each_run(edges, [&](std::size_t triangles_here) {
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
  for_each_run(lists, [&](std::size_t alike) { defects.duplicate_triangles += alike - 1; });
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
