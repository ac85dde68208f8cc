#pragma once

#include <variant>

#include "io/read/bodies/body_reader.h"

namespace standpoint {

// Bodies that a scene states in place of a mesh file. Lengths are in the scene's units.

/// Stands on its origin, centred in x and y.
struct PlainBox {
  Vec3 size = Vec3::Zero();  ///< > 0
};
/// Stands on its origin, its axis along z.
struct PlainCylinder {
  double diameter = 0;  ///< > 0
  double height = 0;    ///< > 0
};
/// Its upper face lies at its origin, centred in x and y; it goes `kFloorThicknessMm` down.
struct PlainFloor {
  Vec2 size = Vec2::Zero();  ///< > 0
};
using PlainShape = std::variant<PlainBox, PlainCylinder, PlainFloor>;

/// A floor is a slab, not a sheet: it has an inside, so that what sinks into it can be told. Thin
/// enough to stay clear of what lies in a pit below.
inline constexpr double kFloorThicknessMm = 10;

/// The shape's mesh, closed and oriented outward, placed as a file's would be; its faces are named
/// for what they are ("top", "bottom", "side +x", "wall").
///
/// A cylinder is a prism that holds the true cylinder inside: what it blocks too much is never
/// farther than `chord_tolerance` (mm) outside of the true wall. Only a radius of more than 100 000
/// times that tolerance needs more than the 720 sides there are at most: then it is 1e-5 of the
/// radius. Its sides touch the true wall at +x, -x, +y and -y, so that its extents are the true
/// ones. Preconditions: all lengths > 0 and finite. O(1).
[[nodiscard]] ReadBody plain_body(const PlainShape& shape, double mm_per_unit,
                                  double chord_tolerance, const Pose& world_from_body);

}  // namespace standpoint
