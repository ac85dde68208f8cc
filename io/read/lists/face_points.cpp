#include "io/read/lists/face_points.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include "io/read/scene/points_in_line.h"

namespace standpoint {
namespace {

/// Where the border crosses the line v = `height`, ascending. A corner on the line counts for the
/// edges above it alone, so crossings come in pairs.
std::vector<double> crossings(const std::vector<Vec2>& border, double height) {
  std::vector<double> at;
  for (std::size_t i = 0; i < border.size(); ++i) {
    const Vec2& a = border[i];
    const Vec2& b = border[(i + 1) % border.size()];
    if ((a.y() > height) == (b.y() > height)) continue;
    at.push_back(a.x() + (b.x() - a.x()) * ((height - a.y()) / (b.y() - a.y())));
  }
  std::sort(at.begin(), at.end());
  return at;
}

}  // namespace

std::vector<Vec3> points_within(const std::vector<Vec3>& border, const Vec3& at,
                                const Vec3& normal) {
  const Vec3 u = any_perpendicular(normal);
  const Vec3 v = normal.cross(u);
  std::vector<Vec2> flat;
  flat.reserve(border.size());
  for (const Vec3& corner : border) flat.emplace_back((corner - at).dot(u), (corner - at).dot(v));
  if (flat.size() < 3) return {};
  const auto [low, high] = std::minmax_element(
      flat.begin(), flat.end(), [](const Vec2& a, const Vec2& b) { return a.y() < b.y(); });
  std::vector<Vec3> points;
  for (const double share : std::array{1.0 / 6, 0.5, 5.0 / 6}) {
    const double height = low->y() + share * (high->y() - low->y());
    const std::vector<double> crossed = crossings(flat, height);
    double from = 0;
    double to = 0;
    for (std::size_t i = 0; i + 1 < crossed.size(); i += 2) {
      if (crossed[i + 1] - crossed[i] <= to - from) continue;
      from = crossed[i];
      to = crossed[i + 1];
    }
    if (!(to > from)) return {};
    for (const double along : std::array{0.1, 0.9})
      points.emplace_back(at + (from + along * (to - from)) * u + height * v);
  }
  if (are_in_line(points)) return {};
  return points;
}

}  // namespace standpoint
