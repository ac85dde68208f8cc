#include "io/read/scene/polygon_defect.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2_algorithms.h>

namespace standpoint {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;

std::optional<PolygonFinding> find_repeated_corner(const std::vector<Vec2>& corners) {
  std::vector<std::size_t> order(corners.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tie(corners[a].x(), corners[a].y(), a) <
           std::tie(corners[b].x(), corners[b].y(), b);
  });
  std::optional<PolygonFinding> found;
  for (std::size_t i = 1; i < order.size(); ++i) {
    if (corners[order[i]] != corners[order[i - 1]]) continue;
    if (found && found->second < order[i]) continue;
    found = {PolygonDefect::repeated_corner, order[i - 1], order[i]};
  }
  return found;
}

}  // namespace

std::optional<PolygonFinding> find_polygon_defect(const std::vector<Vec2>& corners) {
  if (auto repeated = find_repeated_corner(corners)) return repeated;
  std::vector<Kernel::Point_2> points;
  points.reserve(corners.size());
  for (const Vec2& corner : corners) points.emplace_back(corner.x(), corner.y());
  const bool is_flat = std::all_of(points.begin() + 2, points.end(), [&](const auto& point) {
    return CGAL::collinear(points[0], points[1], point);
  });
  if (is_flat) return PolygonFinding{PolygonDefect::flat};
  if (!CGAL::is_simple_2(points.begin(), points.end(), Kernel()))
    return PolygonFinding{PolygonDefect::crosses};
  return std::nullopt;
}

double polygon_area(const std::vector<Vec2>& corners) {
  double twice = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    // From the first corner, so that a far origin costs no digits.
    const Vec2 a = corners[i] - corners[0];
    const Vec2 b = corners[(i + 1) % corners.size()] - corners[0];
    twice += a.x() * b.y() - a.y() * b.x();
  }
  return std::abs(twice) / 2;
}

}  // namespace standpoint
