#pragma once

// One face of an OpenCASCADE shape as a plain one. For the .cpp files of the CAD reader only,
// because it needs OpenCASCADE's headers.

#include <vector>

#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Face.hxx>

#include "planner/part/face.h"

namespace standpoint {

/// The faces of one solid, and which of them meet at each edge.
struct SolidFaces {
  TopTools_IndexedMapOfShape faces;
  TopTools_IndexedDataMapOfShapeListOfShape faces_at_edge;
  std::size_t first = 0;  ///< the index in the part that the first face has
};

/// The face as it stands in the solid, without number, component and solid. Precondition: it is one
/// of `solid.faces` and has a surface.
[[nodiscard]] Face plain_face(const TopoDS_Face& face, const SolidFaces& solid, double chord);

}  // namespace standpoint
