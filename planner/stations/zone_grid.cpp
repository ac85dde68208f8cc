#include <algorithm>
#include <cassert>
#include <cmath>

#include "planner/model/tolerances.h"
#include "planner/stations/candidates.h"
#include "planner/stations/zone_polygon.h"

namespace standpoint {
namespace {

/// The grid lines along one axis, ascending, from the least corner's to the greatest corner's.
std::vector<double> grid_lines(std::vector<double> corners, double spacing) {
  std::sort(corners.begin(), corners.end());
  const double low = corners.front(), high = corners.back();
  const auto snapped = [&](double line) {
    const auto after =
        std::lower_bound(corners.begin(), corners.end(), line - tolerance::kGridSnap);
    return after != corners.end() && *after <= line + tolerance::kGridSnap ? *after : line;
  };
  std::vector<double> lines;
  for (std::size_t i = 0;; ++i) {
    // Multiplied, not summed: the error does not grow along the aisle.
    const double line = snapped(low + static_cast<double>(i) * spacing);
    if (line > high) return lines;
    lines.push_back(line);
  }
}

}  // namespace

std::vector<Vec3> zone_grid(const Zone& zone) {
  assert(zone.polygon.size() >= 3);
  assert(zone.spacing > 0);
  std::vector<double> xs, ys;
  for (const Vec2& corner : zone.polygon) {
    xs.push_back(corner.x());
    ys.push_back(corner.y());
  }
  std::vector<Vec3> places;
  const std::vector<double> y_lines = grid_lines(ys, zone.spacing);
  for (const double x : grid_lines(xs, zone.spacing)) {
    for (const double y : y_lines) {
      if (!is_place_of(zone, Vec2(x, y))) continue;
      for (const double height : zone.heights) places.emplace_back(x, y, zone.floor + height);
    }
  }
  return places;
}

}  // namespace standpoint
