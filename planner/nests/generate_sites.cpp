#include "planner/nests/generate_sites.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>
#include <string>
#include <tuple>
#include <utility>

#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"
#include "planner/reach/place.h"
#include "planner/stations/candidates.h"
#include "planner/stations/zone_polygon.h"

namespace standpoint {
namespace {

/// Where a line of the grid meets a face. Ordered as sites are listed.
struct Hit {
  int axis = 2;  ///< along which the line runs
  bool is_negative = false;
  long i = 0, j = 0;  ///< numbers of the grid's lines along the two other axes
  Vec3 at = Vec3::Zero();
  Vec3 normal = Vec3::UnitZ();

  [[nodiscard]] auto key() const {
    // Upright lines first, higher faces first; then x, then y.
    return std::tuple(axis == 2 ? 0 : axis + 1, is_negative, i, j, -at[axis]);
  }
};

/// The grid and prism of one surface.
class Raiser {
 public:
  Raiser(const NestSurface& surface, const Mesh& mesh)
      : surface_(&surface), spacing_(surface.spacing) {
    low_ = Vec3(surface.polygon.front().x(), surface.polygon.front().y(), 0);
    for (const Vec2& corner : surface.polygon) {
      low_.head<2>() = low_.head<2>().cwiseMin(corner);
      high_.extend(corner);
    }
    double least = std::numeric_limits<double>::infinity();
    for (const Vec3& vertex : mesh.vertices) least = std::min(least, vertex.z());
    low_.z() = least + spacing_ / 2;
  }

  /// Adds where the grid's lines meet the triangle.
  void meet(const std::array<Vec3, 3>& corners, std::vector<Hit>& hits) const {
    const Vec3 across = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
    if (!(across.norm() > 0)) return;
    const Vec3 normal = across.normalized();
    // Of equal components the later: an edge broken at 45 degrees looks up.
    int axis = 2;
    for (const int other : {1, 0})
      if (std::abs(normal[other]) > std::abs(normal[axis])) axis = other;
    if (axis == 2 && normal.z() < 0) return;
    const int u = (axis + 1) % 3, v = (axis + 2) % 3;
    Eigen::AlignedBox2d box;
    for (const Vec3& c : corners) box.extend(Vec2(c[u], c[v]));
    const auto [u0, u1] = lines(box.min().x(), box.max().x(), u);
    const auto [v0, v1] = lines(box.min().y(), box.max().y(), v);
    for (long i = u0; i <= u1; ++i) {
      for (long j = v0; j <= v1; ++j) {
        const Vec2 p(line(i, u), line(j, v));
        if (!is_inside(corners, u, v, p)) continue;
        Vec3 at;
        at[u] = p.x();
        at[v] = p.y();
        at[axis] = corners[0][axis] -
                   (normal[u] * (p.x() - corners[0][u]) + normal[v] * (p.y() - corners[0][v])) /
                       normal[axis];
        if (!is_in_polygon(surface_->polygon, at.head<2>())) continue;
        // Numbered x before y before z, whatever axis the line runs along.
        const bool keeps = u < v;
        hits.push_back({axis, normal[axis] < 0, keeps ? i : j, keeps ? j : i, at, normal});
      }
    }
  }

 private:
  /// The numbers of the lines from `from` to `to` along `axis`, none below 0 or beyond the polygon.
  [[nodiscard]] std::pair<long, long> lines(double from, double to, int axis) const {
    if (axis < 2) {
      from = std::max(from, high_.min()[axis] - tolerance::kGridSnap);
      to = std::min(to, high_.max()[axis] + tolerance::kGridSnap);
    }
    if (!(from <= to)) return {0, -1};
    const double first = std::ceil((from - tolerance::kGridSnap - low_[axis]) / spacing_);
    const double last = std::floor((to + tolerance::kGridSnap - low_[axis]) / spacing_);
    return {std::max(0L, static_cast<long>(first)), static_cast<long>(last)};
  }
  [[nodiscard]] double line(long i, int axis) const {
    return low_[axis] + static_cast<double>(i) * spacing_;
  }

  /// In or on the triangle's projection. Two triangles share an edge without a gap: swapping its
  /// ends only changes the sign of what is computed.
  static bool is_inside(const std::array<Vec3, 3>& c, int u, int v, const Vec2& p) {
    bool has_left = false, has_right = false;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 &a = c[k], &b = c[(k + 1) % 3];
      const double side = (a[u] - p.x()) * (b[v] - p.y()) - (b[u] - p.x()) * (a[v] - p.y());
      has_left = has_left || side > 0;
      has_right = has_right || side < 0;
    }
    return !(has_left && has_right);
  }

  const NestSurface* surface_;
  double spacing_;
  Vec3 low_;
  Eigen::AlignedBox2d high_;  ///< of the polygon
};

std::vector<Hit> hits_on(const NestSurface& surface, const Mesh& mesh) {
  std::vector<Hit> hits;
  if (mesh.triangles.empty()) return hits;
  const Raiser generator(surface, mesh);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) generator.meet(mesh.corners(t), hits);
  std::stable_sort(hits.begin(), hits.end(),
                   [](const Hit& a, const Hit& b) { return a.key() < b.key(); });
  // A line through an edge meets both its triangles.
  const auto is_same = [](const Hit& a, const Hit& b) {
    return a.axis == b.axis && (a.at - b.at).norm() <= tolerance::kGridSnap;
  };
  hits.erase(std::unique(hits.begin(), hits.end(), is_same), hits.end());
  return hits;
}

std::string name_of(const std::string& body, const Hit& hit) {
  std::string name = body;
  if (hit.axis < 2) name += std::string(hit.is_negative ? "-" : "+") + (hit.axis == 0 ? "x" : "y");
  return name + "-" + std::to_string(hit.i) + "-" + std::to_string(hit.j);
}

/// `name`, or with the first number that makes it one of its own.
std::string own_name(const std::string& name, std::set<std::string>& taken) {
  std::string own = name;
  for (int number = 2; !taken.insert(own).second; ++number)
    own = name + "-" + std::to_string(number);
  return own;
}

}  // namespace

std::vector<NestSite> generate_sites(const Cell& cell) {
  const Scene& scene = cell.scene();
  std::vector<NestSite> sites = scene.nest_sites;
  if (scene.full_targets.empty()) return sites;
  const double radius = scene.full_targets.front().radius;
  std::set<std::string> taken;
  for (const Nest& nest : scene.nests) taken.insert(nest.name);
  for (const Nest& site : scene.nest_sites) taken.insert(site.name);
  for (const Feature& feature : scene.features) taken.insert(feature.name);
  for (const NestSurface& surface : scene.nest_surfaces) {
    for (const Hit& hit : hits_on(surface, cell.tree().mesh(surface.body))) {
      const Vec3 centre = hit.at + radius * hit.normal;
      if (fit_fails(cell, centre, radius)) continue;
      const std::string name = name_of(scene.bodies[surface.body.index].name, hit);
      sites.push_back({own_name(name, taken), centre, hit.normal, kGeneratedSeat});
    }
  }
  return sites;
}

}  // namespace standpoint
