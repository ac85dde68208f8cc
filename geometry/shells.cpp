#include "geometry/shells.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include "geometry/by_vertex.h"
#include "geometry/same_place.h"
#include "geometry/vec.h"

namespace standpoint {
namespace {

using Corners = std::array<std::uint32_t, 3>;

/// Triangles that hang together, and which of them run against the first of their set: a forest
/// in which each member knows whether it runs against its parent.
class Sets {
 public:
  explicit Sets(std::size_t n) : parent_(n), against_(n, 0) {
    for (std::size_t i = 0; i < n; ++i) parent_[i] = static_cast<std::uint32_t>(i);
  }

  struct Member {
    std::uint32_t root = 0;
    bool runs_against = false;  ///< the root
  };

  /// Shortens the way for the next one who asks.
  Member find(std::uint32_t i) {
    Member found{i, false};
    while (parent_[found.root] != found.root) {
      found.runs_against ^= against_[found.root] != 0;
      found.root = parent_[found.root];
    }
    bool rest = found.runs_against;
    while (parent_[i] != found.root && i != found.root) {
      const std::uint32_t next = parent_[i];
      const bool mine = against_[i] != 0;
      parent_[i] = found.root;
      against_[i] = rest ? 1 : 0;
      rest ^= mine;
      i = next;
    }
    return found;
  }

  /// Whether the two can run so to each other as `against` says, after all that was joined before.
  bool join(std::uint32_t i, std::uint32_t j, bool against) {
    const Member a = find(i), b = find(j);
    const bool turned = (a.runs_against != b.runs_against) != against;
    if (a.root == b.root) return !turned;
    // The smaller number leads, so that the answer does not depend on the order of the edges.
    parent_[std::max(a.root, b.root)] = std::min(a.root, b.root);
    against_[std::max(a.root, b.root)] = turned ? 1 : 0;
    return true;
  }

 private:
  std::vector<std::uint32_t> parent_;
  std::vector<std::uint8_t> against_;
};

/// What is known of a set, kept at its root.
struct Findings {
  bool is_uneven = false;     ///< an edge is not run through as often one way as the other
  bool is_crowded = false;    ///< an edge has not two triangles
  bool is_one_sided = false;  ///< no turning of triangles makes all edges even
  double turned_area = 0;     ///< of what runs against the root, less what runs with it; mm²
};

/// An edge seen from its lower end: the other end, and twice the triangle, plus 1 where the
/// triangle runs from the higher end to the lower.
using Edge = std::array<std::uint32_t, 2>;

ByVertex<Edge> edges_of(const std::vector<Corners>& triangles, const std::vector<bool>& counts,
                        std::size_t vertices) {
  return by_vertex<Edge>(vertices, [&](const auto& put) {
    for (std::size_t i = 0; i < triangles.size(); ++i) {
      if (!counts[i]) continue;
      for (std::size_t side = 0; side < 3; ++side) {
        const std::uint32_t a = triangles[i][side], b = triangles[i][(side + 1) % 3];
        put(std::min(a, b),
            Edge{std::max(a, b), static_cast<std::uint32_t>(2 * i + (a > b ? 1 : 0))});
      }
    }
  });
}

/// Whether each triangle bounds anything: it has three corners, and is not the second of two alike.
std::vector<bool> counting(const std::vector<Corners>& triangles, std::size_t vertices) {
  // Turned so that the lowest corner comes first: alike are those with equal second and third.
  using Rest = std::array<std::uint32_t, 3>;
  std::vector<bool> counts(triangles.size());
  auto lists = by_vertex<Rest>(vertices, [&](const auto& put) {
    for (std::size_t i = 0; i < triangles.size(); ++i) {
      Corners t = triangles[i];
      counts[i] = !is_collapsed(t);
      std::rotate(t.begin(), std::min_element(t.begin(), t.end()), t.end());
      if (counts[i]) put(t[0], Rest{t[1], t[2], static_cast<std::uint32_t>(i)});
    }
  });
  const auto is_alike = [](const Rest& a, const Rest& b) { return a[0] == b[0] && a[1] == b[1]; };
  for_each_run(lists, is_alike, [&](auto from, auto to) {
    for (auto later = from + 1; later != to; ++later) counts[(*later)[2]] = false;
  });
  return counts;
}

/// Joins the triangles that share an edge, and keeps at each set's root what its edges are like.
std::vector<Findings> join_at_edges(ByVertex<Edge>& edges, Sets& sets, std::size_t triangles) {
  struct Fault {
    std::uint32_t triangle;
    bool is_uneven, is_crowded, is_one_sided;
  };
  std::vector<Fault> faults;
  const auto is_same = [](const Edge& a, const Edge& b) { return a[0] == b[0]; };
  for_each_run(edges, is_same, [&](auto from, auto to) {
    std::ptrdiff_t balance = 0;
    bool is_possible = true;
    const std::uint32_t first = (*from)[1];
    for (auto edge = from; edge != to; ++edge) {
      balance += ((*edge)[1] & 1) != 0 ? 1 : -1;
      // Two triangles side by side run through their edge in opposite ways.
      const bool against = to - from == 2 && ((first ^ (*edge)[1]) & 1) == 0;
      if (edge != from) is_possible &= sets.join(first / 2, (*edge)[1] / 2, against);
    }
    const bool is_crowded = to - from != 2;
    if (balance != 0 || is_crowded || !is_possible)
      faults.push_back({first / 2, balance != 0, is_crowded, !is_possible});
  });
  std::vector<Findings> findings(triangles);
  for (const Fault& fault : faults) {
    Findings& found = findings[sets.find(fault.triangle).root];
    found.is_uneven |= fault.is_uneven;
    found.is_crowded |= fault.is_crowded;
    found.is_one_sided |= fault.is_one_sided;
  }
  return findings;
}

/// Six times the volume between the triangle and `from`, mm³.
double sixfold_volume(const std::array<Vec3, 3>& corners, const Vec3& from) {
  return (corners[0] - from).dot((corners[1] - from).cross(corners[2] - from));
}

}  // namespace

Shells closed_shells(const Mesh& mesh) {
  const std::vector<Corners> triangles = joined_triangles(mesh);
  const std::vector<bool> counts = counting(triangles, mesh.vertices.size());
  Sets sets(triangles.size());
  std::vector<Findings> findings;
  {
    ByVertex<Edge> edges = edges_of(triangles, counts, mesh.vertices.size());
    findings = join_at_edges(edges, sets, triangles.size());
  }
  for (std::uint32_t i = 0; i < triangles.size(); ++i) {
    const auto corners = mesh.corners(i);
    const double area = (corners[1] - corners[0]).cross(corners[2] - corners[0]).norm();
    const Sets::Member member = sets.find(i);
    findings[member.root].turned_area += member.runs_against ? area : -area;
  }

  Shells shells;
  shells.of_triangle.assign(triangles.size(), 0);
  std::vector<std::int32_t> shell_of_root(triangles.size(), 0);
  std::vector<Vec3> origin;
  for (std::uint32_t i = 0; i < triangles.size(); ++i) {
    const auto [root, runs_against] = sets.find(i);
    const Findings& found = findings[root];
    if (!counts[i] || (found.is_uneven && (found.is_crowded || found.is_one_sided))) continue;
    if (shell_of_root[root] == 0) {
      shells.volume.push_back(0);
      origin.push_back(mesh.corners(i)[0]);
      shell_of_root[root] = static_cast<std::int32_t>(shells.volume.size());
    }
    const bool is_turned = found.is_uneven && runs_against == (found.turned_area <= 0);
    const std::int32_t shell = shell_of_root[root];
    shells.of_triangle[i] = is_turned ? -shell : shell;
    const auto s = static_cast<std::size_t>(shell) - 1;
    const double volume = sixfold_volume(mesh.corners(i), origin[s]) / 6;
    shells.volume[s] += is_turned ? -volume : volume;
  }
  return shells;
}

}  // namespace standpoint
