#include "io/write/drawings/perspective.h"

#include <algorithm>
#include <cassert>
#include <numbers>

#include "geometry/trigonometry.h"

namespace standpoint {
namespace {

struct Deep {
  Vec3 at;
  double depth = 0;  ///< counted from the plane that cuts
};

/// The part of a convex polygon whose depths, times `sign`, are at least sign x limit (Sutherland
/// and Hodgman, Comm. ACM 17(1), 1974).
std::vector<Deep> cut(const std::vector<Deep>& polygon, double limit, double sign) {
  std::vector<Deep> kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Deep& p = polygon[i];
    const Deep& q = polygon[(i + 1) % polygon.size()];
    const double a = sign * (p.depth - limit), b = sign * (q.depth - limit);
    if (a >= 0) kept.push_back(p);
    if ((a >= 0) != (b >= 0)) kept.push_back({p.at + a / (a - b) * (q.at - p.at), limit});
  }
  return kept;
}

double turn(const Vec2& a, const Vec2& b, const Vec2& c) {
  return (b - a).x() * (c - a).y() - (b - a).y() * (c - a).x();
}

/// Andrew, Inf. Process. Lett. 9(5), 1979.
std::vector<Vec2> hull(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(), [](const Vec2& a, const Vec2& b) {
    return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
  });
  std::vector<Vec2> around;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t base = around.size();
    for (const Vec2& p : points) {
      while (around.size() >= base + 2 &&
             turn(around[around.size() - 2], around[around.size() - 1], p) <= 0)
        around.pop_back();
      around.push_back(p);
    }
    around.pop_back();  // begins the other pass
    std::reverse(points.begin(), points.end());
  }
  return around;
}

}  // namespace

Perspective::Perspective(const Vec3& centre, const Vec3& at)
    : centre_(centre), along_((at - centre).normalized()), distance_((at - centre).norm()) {
  assert(distance_ > 0);
  const Vec3 right = along_.cross(Vec3::UnitZ());
  right_ = right.norm() > 1e-9 ? Vec3(right.normalized()) : Vec3(Vec3::UnitX());
  up_ = right_.cross(along_);
}

Vec2 Perspective::project(const Vec3& p) const {
  return across(p - centre_) * enlargement(depth(p));
}

Mesh Perspective::project(const Mesh& mesh, double from, double to) const {
  Mesh flat;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    std::vector<Deep> polygon;
    for (const Vec3& corner : mesh.corners(t)) polygon.push_back({corner, depth(corner)});
    const auto [low, high] = std::minmax({polygon[0].depth, polygon[1].depth, polygon[2].depth});
    if (high < from || low > to) continue;
    polygon = cut(cut(polygon, from, 1), to, -1);
    const auto first = static_cast<std::uint32_t>(flat.vertices.size());
    for (const Deep& corner : polygon) {
      // Not the depth of the point again: where it was cut, rounding may put that before `from`.
      const Vec2 p = across(corner.at - centre_) * enlargement(corner.depth);
      flat.vertices.emplace_back(p.x(), p.y(), 0);
    }
    for (std::uint32_t i = 2; i < polygon.size(); ++i)
      flat.triangles.push_back({first, first + i - 1, first + i});
  }
  return flat;
}

std::vector<Vec2> Perspective::outline(const RoundCone& cone) const {
  constexpr int kCorners = 72;
  std::vector<Vec2> points;
  for (const auto& [centre, radius] :
       {std::pair(cone.start, cone.start_radius), std::pair(cone.end, cone.end_radius)}) {
    const Vec2 middle = project(centre);
    const double r = radius * enlargement(depth(centre));
    for (int i = 0; i < kCorners; ++i) {
      const double angle = 2 * std::numbers::pi * i / kCorners;
      points.emplace_back(middle + r * Vec2(cosine(angle), sine(angle)));
    }
  }
  return hull(std::move(points));
}

}  // namespace standpoint
