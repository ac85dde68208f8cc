#pragma once

#include "geometry/vec.h"
#include "standpoint/scene.h"

namespace standpoint {

/// How far a point is from the surface of a shape.
struct SurfaceDistance {
  double mm = 0;             ///< positive out of the material, negative within it
  Vec3 out = Vec3::UnitZ();  ///< unit: how the distance grows, out of the material
};

/// The signed distance of `point` from the surface that the shape is a piece of, in closed form: a
/// plane, a cylinder, a cone down to its tip, a sphere, without ends, since a touch near an end
/// still says how far the surface is. Of a hole its wall; of a slot its whole wall, round ends too;
/// of a line and of a point the plane across the normal; of a plane the one across its normal
/// through the mean of its points; of a surface the plane at its nearest place. Inside a bore, a
/// hole or a slot the air is within, so the distance is positive there. A ball that rests on the
/// surface has its centre at its radius.
///
/// World frame, mm. On an axis or in a centre, where all directions are alike, `out` is any of
/// them. Derived here. Pure. O(1); of a plane and a surface O(places).
[[nodiscard]] SurfaceDistance surface_distance(const Shape& shape, const Vec3& point);

}  // namespace standpoint
