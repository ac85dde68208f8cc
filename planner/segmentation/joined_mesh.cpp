#include "planner/segmentation/joined_mesh.h"

#include <algorithm>
#include <tuple>

#include "geometry/same_place.h"
#include "geometry/trigonometry.h"

namespace standpoint {
namespace {

using Corners = std::array<std::uint32_t, 3>;

bool comes_before(const Vec3& a, const Vec3& b) {
  for (int i = 0; i < 3; ++i) {
    if (a[i] != b[i]) return a[i] < b[i];
  }
  return false;
}

/// Numbers the places by their coordinates, so that nothing depends on the order in the file.
std::vector<std::uint32_t> numbered_places(const std::vector<Vec3>& points,
                                           std::vector<Vec3>& places) {
  const std::vector<std::uint32_t> first = first_at_same_place(points);
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < points.size(); ++i) {
    if (first[i] == i) order.push_back(i);
  }
  std::sort(order.begin(), order.end(),
            [&](std::uint32_t a, std::uint32_t b) { return comes_before(points[a], points[b]); });
  std::vector<std::uint32_t> number(points.size());
  places.reserve(order.size());
  for (std::uint32_t n = 0; n < order.size(); ++n) {
    number[order[n]] = n;
    places.push_back(points[order[n]]);
  }
  for (std::size_t i = 0; i < points.size(); ++i) number[i] = number[first[i]];
  return number;
}

std::vector<Corners> ordered_triangles(const Mesh& mesh, std::vector<Vec3>& places) {
  const std::vector<std::uint32_t> number = numbered_places(mesh.vertices, places);
  std::vector<Corners> triangles;
  triangles.reserve(mesh.triangles.size());
  for (const Corners& t : mesh.triangles) {
    Corners corners = {number[t[0]], number[t[1]], number[t[2]]};
    if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) continue;
    std::rotate(corners.begin(), std::min_element(corners.begin(), corners.end()), corners.end());
    triangles.push_back(corners);
  }
  std::sort(triangles.begin(), triangles.end());
  triangles.erase(std::unique(triangles.begin(), triangles.end()), triangles.end());
  return triangles;
}

Vec3 area_vector(const JoinedMesh& mesh, const Corners& t) {
  const Vec3& a = mesh.vertices[t[0]];
  return 0.5 * (mesh.vertices[t[1]] - a).cross(mesh.vertices[t[2]] - a);
}

/// The sides of one edge, all triangles that meet there.
using Fan = std::vector<std::uint32_t>;

/// Where a triangle stands about the edge, as an angle.
double angle_about(const JoinedMesh& mesh, std::uint32_t side, const Vec3& along, const Vec3& u) {
  const std::uint32_t opposite = mesh.triangles[side / 3][(side % 3 + 2) % 3];
  const Vec3 out = mesh.vertices[opposite] - mesh.vertices[mesh.corner(side)];
  return arc_tangent(out.dot(along.cross(u)), out.dot(u));
}

/// Many triangles at one edge: going round it, material begins at one and ends at the next.
void pair_crowd(JoinedMesh& mesh, const Fan& fan) {
  const std::uint32_t low = std::min(mesh.corner(fan[0]), mesh.end(fan[0]));
  const Vec3 along =
      (mesh.vertices[std::max(mesh.corner(fan[0]), mesh.end(fan[0]))] - mesh.vertices[low])
          .normalized();
  const Vec3 u = any_perpendicular(along);
  // The outward normal of a triangle whose side runs along the edge points to growing angles: there
  // its material ends. At one that runs back material begins. Where two solids touch, one ends
  // before the other begins.
  const auto begins = [&](std::uint32_t side) { return mesh.corner(side) != low; };
  std::vector<std::tuple<double, bool, std::uint32_t>> round;
  round.reserve(fan.size());
  for (const std::uint32_t side : fan) {
    round.emplace_back(angle_about(mesh, side, along, u), begins(side), side);
  }
  std::sort(round.begin(), round.end());
  const std::size_t n = round.size();
  for (std::size_t i = 0; i < n; ++i) {
    const std::uint32_t a = std::get<2>(round[i]), b = std::get<2>(round[(i + 1) % n]);
    if (begins(a) && !begins(b)) {
      mesh.across[a] = b;
      mesh.across[b] = a;
    }
  }
}

void find_neighbours(JoinedMesh& mesh) {
  const std::size_t sides = 3 * mesh.triangles.size();
  mesh.across.assign(sides, kNobody);
  std::vector<std::array<std::uint32_t, 3>> edges(sides);
  for (std::uint32_t s = 0; s < sides; ++s) {
    const std::uint32_t from = mesh.corner(s), to = mesh.end(s);
    edges[s] = {std::min(from, to), std::max(from, to), s};
  }
  std::sort(edges.begin(), edges.end());
  Fan fan;
  for (std::size_t from = 0; from < sides;) {
    std::size_t to = from + 1;
    while (to < sides && edges[to][0] == edges[from][0] && edges[to][1] == edges[from][1]) ++to;
    if (to - from == 2) {
      mesh.across[edges[from][2]] = edges[from + 1][2];
      mesh.across[edges[from + 1][2]] = edges[from][2];
    } else if (to - from > 2) {
      fan.clear();
      for (std::size_t i = from; i < to; ++i) fan.push_back(edges[i][2]);
      pair_crowd(mesh, fan);
    }
    from = to;
  }
}

/// Numbers the connected pieces and tells for each triangle whether it runs against its piece's
/// first one.
std::vector<bool> find_pieces(JoinedMesh& mesh) {
  mesh.pieces.assign(mesh.triangles.size(), kNobody);
  std::vector<bool> is_turned(mesh.triangles.size(), false);
  std::vector<std::uint32_t> open;
  std::uint32_t piece = 0;
  for (std::uint32_t first = 0; first < mesh.triangles.size(); ++first) {
    if (mesh.pieces[first] != kNobody) continue;
    mesh.pieces[first] = piece;
    open.assign(1, first);
    while (!open.empty()) {
      const std::uint32_t t = open.back();
      open.pop_back();
      for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
        const std::uint32_t other = mesh.across[s];
        if (other == kNobody || mesh.pieces[other / 3] != kNobody) continue;
        mesh.pieces[other / 3] = piece;
        is_turned[other / 3] = is_turned[t] != (mesh.corner(s) == mesh.corner(other));
        open.push_back(other / 3);
      }
    }
    ++piece;
  }
  return is_turned;
}

/// Which triangles to turn so that each piece agrees and the whole is the right way out.
void turn_alike(const JoinedMesh& mesh, std::vector<bool>& is_turned) {
  const std::size_t pieces =
      mesh.pieces.empty() ? 0 : *std::max_element(mesh.pieces.begin(), mesh.pieces.end()) + 1;
  std::vector<double> against(pieces, 0), volume(pieces, 0);
  std::vector<bool> is_open(pieces, false);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const Vec3 area = area_vector(mesh, mesh.triangles[t]);
    const double sense = is_turned[t] ? -1 : 1;
    against[mesh.pieces[t]] += sense * area.norm();
    const Vec3 from_middle = mesh.vertices[mesh.triangles[t][0]] - mesh.vertices[0];
    volume[mesh.pieces[t]] += sense * area.dot(from_middle);
    for (std::size_t s = 3 * t; s < 3 * t + 3; ++s) {
      if (mesh.across[s] == kNobody) is_open[mesh.pieces[t]] = true;
    }
  }
  double closed_volume = 0;
  for (std::size_t p = 0; p < pieces; ++p) {
    if (!is_open[p]) closed_volume += against[p] < 0 ? -volume[p] : volume[p];
  }
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if ((against[mesh.pieces[t]] < 0) != (closed_volume < 0)) is_turned[t] = !is_turned[t];
  }
}

}  // namespace

JoinedMesh join_triangles(const Mesh& mesh) {
  JoinedMesh joined;
  joined.triangles = ordered_triangles(mesh, joined.vertices);
  find_neighbours(joined);
  std::vector<bool> is_turned = find_pieces(joined);
  turn_alike(joined, is_turned);
  if (std::find(is_turned.begin(), is_turned.end(), true) != is_turned.end()) {
    for (std::size_t t = 0; t < joined.triangles.size(); ++t) {
      if (is_turned[t]) std::swap(joined.triangles[t][1], joined.triangles[t][2]);
    }
    std::sort(joined.triangles.begin(), joined.triangles.end());
    find_neighbours(joined);
    find_pieces(joined);
  }
  joined.area_vectors.reserve(joined.triangles.size());
  for (const Corners& t : joined.triangles) joined.area_vectors.push_back(area_vector(joined, t));
  return joined;
}

}  // namespace standpoint
