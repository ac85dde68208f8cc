#include "planner/part/rest.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>

#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kMostLooked = 200;

/// Triangles of one plane, as far as rounding tells.
struct Flat {
  Vec3 normal = Vec3::Zero();
  double offset = 0;
  double area = 0;
  std::size_t first = 0;  ///< triangle
  double largest = 0;     ///< area of the triangle that gives the normal
};

Vec3 snapped(const Vec3& direction) {
  for (int i = 0; i < 3; ++i) {
    Vec3 axis = direction[i] < 0 ? Vec3(-Vec3::Unit(i)) : Vec3(Vec3::Unit(i));
    if ((direction - axis).norm() <= tolerance::kAxisSnap) return axis;
  }
  return direction;
}

/// Twice the triangle's area, along its normal.
Vec3 area_vector(const std::array<Vec3, 3>& corners) {
  return (corners[1] - corners[0]).cross(corners[2] - corners[0]);
}

/// The flat faces, largest first.
std::vector<Flat> flat_faces(const Mesh& mesh) {
  std::map<std::array<std::int64_t, 4>, Flat> found;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto corners = mesh.corners(t);
    const Vec3 twice = area_vector(corners);
    const double norm = twice.norm();
    if (!(norm > 0)) continue;
    const Vec3 normal = twice / norm;
    const double offset = normal.dot(corners[0]);
    const auto step = [](double value, double size) {
      return static_cast<std::int64_t>(std::llround(value / size));
    };
    Flat& flat = found[{
        step(normal.x(), tolerance::kSamePlaneTurn), step(normal.y(), tolerance::kSamePlaneTurn),
        step(normal.z(), tolerance::kSamePlaneTurn), step(offset, tolerance::kRestSlack)}];
    if (flat.area == 0) flat.first = t;
    flat.area += norm / 2;
    if (norm > flat.largest) {
      flat.largest = norm;
      flat.normal = snapped(normal);
      flat.offset = offset;
    }
  }
  std::vector<Flat> flats;
  flats.reserve(found.size());
  for (const auto& [key, flat] : found) flats.push_back(flat);
  std::sort(flats.begin(), flats.end(), [](const Flat& a, const Flat& b) {
    return a.area != b.area ? a.area > b.area : a.first < b.first;
  });
  return flats;
}

/// Of the volume that the mesh encloses, or of its surface where that is none.
Vec3 centre_of(const Mesh& mesh) {
  const Vec3 origin = mesh.vertices.front();
  double volume = 0, area = 0, across = 0;
  Vec3 by_volume = Vec3::Zero(), by_area = Vec3::Zero();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    auto corners = mesh.corners(t);
    for (Vec3& corner : corners) corner -= origin;
    const double six = corners[0].dot(corners[1].cross(corners[2]));
    const double two = area_vector(corners).norm();
    volume += six / 6;
    by_volume += six / 24 * (corners[0] + corners[1] + corners[2]);
    area += two / 2;
    by_area += two / 6 * (corners[0] + corners[1] + corners[2]);
    for (const Vec3& corner : corners) across = std::max(across, corner.norm());
  }
  // A sheet encloses nothing but rounding.
  if (std::abs(volume) > tolerance::kVolumeShare * area * across)
    return origin + by_volume / volume;
  return area > 0 ? Vec3(origin + by_area / area) : origin;
}

double cross(const Vec2& a, const Vec2& b, const Vec2& c) {
  return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

/// The convex hull, counter-clockwise (A. M. Andrew, Information Processing Letters 9 (1979)
/// 216-219; from memory). Empty where the points span no area.
std::vector<Vec2> hull_of(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(), [](const Vec2& a, const Vec2& b) {
    return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
  });
  std::vector<Vec2> hull;
  const auto add = [&hull](const Vec2& point, std::size_t least) {
    while (hull.size() > least && cross(hull[hull.size() - 2], hull.back(), point) <= 0)
      hull.pop_back();
    hull.push_back(point);
  };
  for (const Vec2& point : points) add(point, 1);
  if (hull.size() < 2) return {};
  const std::size_t lower = hull.size();
  for (auto point = points.rbegin() + 1; point != points.rend(); ++point) add(*point, lower);
  hull.pop_back();  // the first point again
  return hull.size() < 3 ? std::vector<Vec2>{} : hull;
}

bool is_over(const std::vector<Vec2>& hull, const Vec2& point) {
  for (std::size_t i = 0; i < hull.size(); ++i)
    if (cross(hull[i], hull[(i + 1) % hull.size()], point) < 0) return false;
  return !hull.empty();
}

bool is_all_behind(const Mesh& mesh, const Flat& flat) {
  return std::all_of(mesh.vertices.begin(), mesh.vertices.end(), [&](const Vec3& vertex) {
    return flat.normal.dot(vertex) <= flat.offset + tolerance::kRestSlack;
  });
}

/// How the part stands on this face; an area of 0 where it tips.
Rest standing_on(const Mesh& mesh, const Flat& flat, const Vec3& centre) {
  const Vec3 right = flat.normal.unitOrthogonal(), ahead = flat.normal.cross(right);
  const auto seen = [&](const Vec3& at) { return Vec2(right.dot(at), ahead.dot(at)); };
  Rest rest{flat.normal, 0};
  std::vector<Vec2> touching;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto corners = mesh.corners(t);
    const bool is_on_floor = std::all_of(corners.begin(), corners.end(), [&](const Vec3& corner) {
      return flat.normal.dot(corner) >= flat.offset - tolerance::kRestSlack;
    });
    if (!is_on_floor) continue;
    rest.area += area_vector(corners).norm() / 2;
    for (const Vec3& corner : corners) touching.push_back(seen(corner));
  }
  if (!is_over(hull_of(std::move(touching)), seen(centre))) rest.area = 0;
  return rest;
}

}  // namespace

std::vector<Rest> ways_to_stand(const Mesh& mesh) {
  std::vector<Rest> ways;
  if (mesh.vertices.empty()) return ways;
  const Vec3 centre = centre_of(mesh);
  const std::vector<Flat> flats = flat_faces(mesh);
  for (std::size_t i = 0; i < flats.size() && i < kMostLooked; ++i) {
    // One direction has one plane that all of the part lies behind.
    const bool is_known = std::any_of(ways.begin(), ways.end(), [&](const Rest& way) {
      return (way.down - flats[i].normal).norm() <= 2 * tolerance::kSamePlaneTurn;
    });
    if (is_known || !is_all_behind(mesh, flats[i])) continue;
    const Rest way = standing_on(mesh, flats[i], centre);
    if (way.area > 0) ways.push_back(way);
  }
  std::stable_sort(ways.begin(), ways.end(),
                   [](const Rest& a, const Rest& b) { return a.area > b.area; });
  return ways;
}

}  // namespace standpoint
