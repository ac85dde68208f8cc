#pragma once

#include <optional>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

/// The ratio of two units of length (mm, cm, m, in, ft) that the places read are off by, if they
/// are: the best similarity of `read` to `known` leaves at most `tolerance::kUnitMisfit` of the
/// spread, and its scale is within `tolerance::kUnitSlack` of such a ratio. Told is that scale:
/// known lengths are so many times the read ones. Preconditions: as many of both, three or more.
/// Pure. O(places).
[[nodiscard]] std::optional<double> unit_slip(const std::vector<Vec3>& read,
                                              const std::vector<Vec3>& known);

}  // namespace standpoint
