#include "geometry/edge_links.h"

#include <algorithm>
#include <utility>

namespace standpoint {
namespace {

/// Low and high vertex of a side.
std::pair<std::uint32_t, std::uint32_t> ends(const Mesh& mesh, std::uint32_t side) {
  const auto& corners = mesh.triangles[side / 3];
  return std::minmax({corners[side % 3], corners[(side + 1) % 3]});
}

}  // namespace

EdgeLinks::EdgeLinks(const Mesh& mesh) : next_(3 * mesh.triangles.size()) {
  const auto sides = static_cast<std::uint32_t>(next_.size());
  // Sides by their low vertex, counted out; then each vertex's few by the other end.
  std::vector<std::uint32_t> first(mesh.vertices.size() + 1, 0), sorted(sides);
  for (std::uint32_t side = 0; side < sides; ++side) ++first[ends(mesh, side).first + 1];
  for (std::size_t v = 1; v < first.size(); ++v) first[v] += first[v - 1];
  std::vector<std::uint32_t> filled(first.begin(), first.end() - 1);
  for (std::uint32_t side = 0; side < sides; ++side) {
    sorted[filled[ends(mesh, side).first]++] = side;
  }
  for (std::size_t v = 0; v + 1 < first.size(); ++v) {
    const auto begin = sorted.begin() + first[v], end = sorted.begin() + first[v + 1];
    std::sort(begin, end, [&](std::uint32_t a, std::uint32_t b) {
      return std::pair(ends(mesh, a).second, a) < std::pair(ends(mesh, b).second, b);
    });
    for (auto run = begin; run != end;) {
      const std::uint32_t other_end = ends(mesh, *run).second;
      const auto after = std::find_if(
          run, end, [&](std::uint32_t side) { return ends(mesh, side).second != other_end; });
      for (auto side = run; side != after; ++side) {
        next_[*side] = side + 1 == after ? *run : *(side + 1);
      }
      run = after;
    }
  }
}

}  // namespace standpoint
