#include <algorithm>
#include <cmath>

#include "io/read/scene/polygon_defect.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"

namespace standpoint {
namespace {

void tell(const Cursor& at, const JsonList& entries, const PolygonFinding& finding) {
  switch (finding.defect) {
    case PolygonDefect::repeated_corner:
      entry_of(at, entries, finding.second).fault(FaultKind::polygon_repeats_corner, finding.first);
      return;
    case PolygonDefect::flat:
      at.fault(FaultKind::polygon_flat);
      return;
    case PolygonDefect::crosses:
      at.fault(FaultKind::polygon_crosses);
      return;
  }
}

}  // namespace

std::optional<std::vector<Vec2>> read_polygon(const Cursor& at, const SceneReading& reading) {
  const JsonList* entries =
      expect_list(at, {"a list of 3 to 10000 corners [x, y]", 3, kMostCorners});
  if (entries == nullptr) return std::nullopt;
  std::vector<Vec2> corners;
  for (std::size_t i = 0; i < entries->size(); ++i) {
    const auto corner = read_vec2(entry_of(at, *entries, i), kCoordinate);
    if (corner) corners.emplace_back(reading.mm(corner->x()), reading.mm(corner->y()));
  }
  const bool is_whole =
      corners.size() == entries->size() && corners.size() >= 3 && corners.size() <= kMostCorners;
  if (!is_whole) return std::nullopt;
  if (const auto finding = find_polygon_defect(corners)) {
    tell(at, *entries, *finding);
    return std::nullopt;
  }
  return corners;
}

void check_grid(const Cursor& at, double spacing, const std::vector<Vec2>& polygon, double layers,
                double& places) {
  Vec2 low = polygon.front(), high = polygon.front();
  for (const Vec2& corner : polygon) {
    low = low.cwiseMin(corner);
    high = high.cwiseMax(corner);
  }
  const Vec2 steps = (high - low) / spacing;
  const double grid_points = (std::floor(steps.x()) + 1) * (std::floor(steps.y()) + 1);
  if (grid_points > kMostGridPoints)
    at.fault(FaultKind::grid_too_fine, kMostGridPoints, grid_points);
  const bool was_within = places <= kMostCandidates;
  places += polygon_area(polygon) / (spacing * spacing) * layers;
  // Told once: at the grid that passes the bound.
  if (was_within && places > kMostCandidates)
    at.fault(FaultKind::too_many_candidates, kMostCandidates, std::round(places));
}

}  // namespace standpoint
