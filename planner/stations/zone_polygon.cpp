#include "planner/stations/zone_polygon.h"

#include <algorithm>
#include <cassert>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2_algorithms.h>

namespace standpoint {

bool is_in_polygon(const std::vector<Vec2>& polygon, const Vec2& point) {
  assert(polygon.size() >= 3);
  using Predicates = CGAL::Exact_predicates_inexact_constructions_kernel;
  std::vector<Predicates::Point_2> corners;
  corners.reserve(polygon.size());
  for (const Vec2& corner : polygon) corners.emplace_back(corner.x(), corner.y());
  return CGAL::bounded_side_2(corners.begin(), corners.end(),
                              Predicates::Point_2(point.x(), point.y()),
                              Predicates()) != CGAL::ON_UNBOUNDED_SIDE;
}

bool is_place_of(const Zone& zone, const Vec2& point) {
  return is_in_polygon(zone.polygon, point) &&
         std::none_of(zone.holes.begin(), zone.holes.end(),
                      [&](const std::vector<Vec2>& hole) { return is_in_polygon(hole, point); });
}

const KeepOut* keep_out_under(const Scene& scene, const Vec2& point) {
  const auto found =
      std::find_if(scene.keep_outs.begin(), scene.keep_outs.end(),
                   [&](const KeepOut& one) { return is_in_polygon(one.polygon, point); });
  return found == scene.keep_outs.end() ? nullptr : &*found;
}

}  // namespace standpoint
