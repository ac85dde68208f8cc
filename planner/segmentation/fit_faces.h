#pragma once

#include "planner/part/face.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// The faces of a part that is known as a mesh only: planes, cylinders, cones and spheres fitted to
/// its regions, each with how well it fits; tori and free forms as `other`. How is told in
/// docs/mesh-faces.md.
///
/// Part's frame, mm. Vertices at equal places are one. The answer does not depend on the order of
/// triangles, nor on how many copies of a vertex the file holds. `Face::solid` counts connected
/// pieces of surface, so a hollow body's inner skin is a solid of its own. Precondition: indices in
/// range, vertices finite. A mesh without triangles has no faces. O(n log n) for parts of few
/// surfaces; some 600 bytes a triangle. Safe from several threads.
[[nodiscard]] PartFaces fit_faces(const Mesh& mesh);

}  // namespace standpoint
