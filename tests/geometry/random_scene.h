#pragma once

#include <string>
#include <vector>

#include "geometry/round_cone.h"
#include "standpoint/shapes.h"
#include "tests/draw.h"

namespace standpoint::test {

/// The sorts of scene that a tree can get wrong, each for a reason of its own.
enum class SceneKind {
  kSoup,            ///< ordinary triangles anywhere
  kDegenerate,      ///< points, needles (collinear corners), slivers 1e-9 mm thin
  kCoincident,      ///< the same triangles many times over, in several bodies
  kHugeBesideTiny,  ///< 20 m plates beside 0.1 mm flakes
  kWires,           ///< prisms of 0.2 mm across and metres long
  kFarOff,          ///< ordinary, 1e5 mm from the origin
  kOneCentre,       ///< all boxes have one centre: nothing to split at
  kFlat,            ///< all in one plane, square to an axis
  kFew,             ///< one to nine triangles
  kCount
};

[[nodiscard]] std::string name_of(SceneKind kind);

/// Some 40 to `most` triangles of that sort, in one to three bodies.
[[nodiscard]] std::vector<Mesh> make_scene(SceneKind kind, std::size_t most, Draw& draw);

/// The sorts of beam that a closed form or a culling can get wrong.
enum class BeamKind {
  kAnywhere,
  kToSurface,      ///< ends a little off a triangle, as a beam to a target does
  kFromSurface,    ///< starts on a triangle
  kAlongTriangle,  ///< parallel to a triangle's plane, near it
  kAlongEdge,      ///< parallel to an edge, about a radius beside it
  kThroughCorner,  ///< its axis meets a corner
  kBall,           ///< no length
  kSteep,          ///< radius changes nearly as fast as the axis runs
  kAlongAxis,      ///< parallel to a coordinate axis
  kNoWidth,        ///< radius 0: a line
  kCount
};

[[nodiscard]] std::string name_of(BeamKind kind);

[[nodiscard]] RoundCone make_beam(BeamKind kind, const std::vector<Mesh>& scene, Draw& draw);

[[nodiscard]] std::vector<const Mesh*> pointers(const std::vector<Mesh>& meshes);

/// A closed prism of `sides` sides between two points, `diameter` across, appended to `mesh`.
void add_wire(Mesh& mesh, const Vec3& from, const Vec3& to, double diameter, int sides = 3);

}  // namespace standpoint::test
