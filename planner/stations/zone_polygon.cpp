#include "planner/stations/zone_polygon.h"

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

}  // namespace standpoint
