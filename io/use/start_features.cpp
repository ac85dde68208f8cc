#include "io/use/start_features.h"

#include <algorithm>
#include <utility>

#include "io/read/scene/points_in_line.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

/// The sine of how far below level an axis points from which the hole counts as opening downward.
constexpr double kDownward = 0.5;

bool has_places(const FoundFeature& feature) {
  constexpr std::size_t kFewest = 3;  // that fix a plane, where they are not in one line
  if (feature.kind != FoundKind::plane) return true;
  return feature.points.size() >= kFewest && !are_in_line(feature.points);
}

bool is_opening(const FoundFeature& feature) {
  return feature.kind == FoundKind::hole || feature.kind == FoundKind::slot;
}

void turn_over(FoundFeature& hole) {
  hole.centre -= hole.depth * hole.axis;
  hole.axis = -hole.axis;
}

}  // namespace

StartFeatures start_features(std::vector<FoundFeature> found, const Footing& footing) {
  StartFeatures result;
  const Mat3 turn = turn_of(footing);
  const auto rise = [&](const FoundFeature& feature) { return (turn * feature.axis).z(); };
  const auto is_on_floor = [&](const FoundFeature& feature) {
    const bool opens = feature.kind == FoundKind::plane || is_opening(feature);
    const double height = (turn * feature.centre + footing.translate).z();
    return opens && rise(feature) < -kDownward && height < tolerance::kOnFloor;
  };
  for (FoundFeature& feature : found) {
    if (is_opening(feature) && feature.through && rise(feature) < -kDownward) {
      turn_over(feature);
      ++result.turned;
    }
    if (!has_places(feature)) {
      result.no_place.push_back(std::move(feature.name));
    } else if (is_on_floor(feature)) {
      result.on_floor.push_back(std::move(feature.name));
    } else {
      result.taken.push_back(std::move(feature));
    }
  }
  return result;
}

}  // namespace standpoint
