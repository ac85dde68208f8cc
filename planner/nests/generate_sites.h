#pragma once

#include <numbers>
#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// Half-angle of the contact ring of a generated site, rad: the surface says where a nest could be
/// put, not which; 45 degrees is a common seat. Larger: the ball can be turned less far.
inline constexpr double kGeneratedSeat = std::numbers::pi / 4;

/// Every place where a nest could be put (contract section 7): the scene's `nest_sites` in order,
/// then those generated on its `nest_surfaces`, in their order.
///
/// A surface's grid has lines at the least corner of its polygon's bounding box + i * spacing in x
/// and y, and in z at the body's least height + (k + 1/2) * spacing. A face is met by the lines
/// along the axis that its normal is nearest to: faces that look up by upright lines, outward ones
/// by level lines; faces that look down are left out. A site stands where a line meets the body in
/// or on the upright prism over the polygon (exact predicate on the rounded point), with the face's
/// normal. The seated ball is the first full target, its centre R off the face; sites where a body
/// comes nearer to it than R - fit_tolerance (contract section 3) are left out. Out of the material
/// is where the face's triangles turn counter-clockwise. Names: "body-i-j" by the grid's lines,
/// with
/// "+x", "-x", "+y" or "-y" for faces that look that way, and a number where a name is taken.
/// A scene without full targets generates nothing. mm, scene frame. Deterministic.
/// O(triangles of the body + lines x faces that they meet), one query of the tree for each site.
[[nodiscard]] std::vector<NestSite> generate_sites(const Cell& cell);

}  // namespace standpoint
