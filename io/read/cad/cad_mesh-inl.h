#pragma once

// Triangles for the faces of OpenCASCADE shapes, held to a tolerance. For the .cpp files of the CAD
// reader only, because it needs OpenCASCADE's headers.

#include <array>
#include <cstdint>
#include <vector>

#include <TopoDS_Face.hxx>

#include "geometry/vec.h"

namespace standpoint {

/// The largest turn of a curve or surface asked for under one edge of a triangle, rad.
inline constexpr double kLargestTurn = 0.35;

/// The triangles of one face, placed as the face is, turning so that they face out of the material.
struct FaceTriangles {
  std::vector<Vec3> points;
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// Whether there is anything to be meshed: some files have faces that are edges alone.
[[nodiscard]] bool has_surface(const TopoDS_Face& face);

/// Has OpenCASCADE make triangles for faces, with rims cut within `deflection` (in the shapes'
/// unit, > 0). A face may be left without triangles. In one thread, so that the same faces give the
/// same triangles. Precondition: each face has a surface.
void mesh_faces(const std::vector<TopoDS_Face>& faces, double deflection);

/// The triangles that a face bears, refined until they keep within `deflection` of its surface.
///
/// OpenCASCADE's own triangles may be several times farther off (cones, spheres and rings; seen:
/// six times). Here each edge and triangle is judged at its middle, against the surface itself, and
/// split there where need be: longest first and in up to ten rounds. The edges of the rim, which
/// neighbouring faces share and which were cut within the tolerance, are never split, so closed
/// shapes stay closed. Triangles without width, which come where a surface shrinks to a point, are
/// left out: they have no edge to share. Faces without a surface keep their triangles as they are;
/// faces without triangles give none.
[[nodiscard]] FaceTriangles triangles_of(const TopoDS_Face& face, double deflection);

}  // namespace standpoint
