#pragma once

#include <string>
#include <vector>

#include "planner/part/found_feature.h"

namespace standpoint {

/// What was found, and where it is ordered by: unlike `feature.centre` this is the same whatever
/// the order of the faces.
struct Placed {
  FoundFeature feature;
  Vec3 place = Vec3::Zero();
};

/// A size as names have it: mm with up to three decimals, rounded half up, no closing zeros. From 0
/// to 1e9.
[[nodiscard]] std::string size_text(double mm);

/// Puts all in order and names them "hole-20-1": kind, size, and a number by place (x, then y, then
/// z, then the axis) among those of the same kind and size. Places within a thousandth of a mm
/// count as equal in one coordinate.
[[nodiscard]] std::vector<FoundFeature> named(std::vector<Placed> found);

}  // namespace standpoint
