#include "exposure.h"

#include <cmath>

#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Poly_Triangulation.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

namespace standpoint::scenes {

Exposure::Exposure(const TopoDS_Shape& shape) {
  const BRepMesh_IncrementalMesh mesh(shape, 5.0, false, 0.8, true);
  for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
    TopLoc_Location place;
    const Handle(Poly_Triangulation) triangles =
        BRep_Tool::Triangulation(TopoDS::Face(at.Current()), place);
    if (triangles.IsNull()) continue;
    for (int i = 1; i <= triangles->NbTriangles(); ++i) {
      int a = 0, b = 0, c = 0;
      triangles->Triangle(i).Get(a, b, c);
      const gp_XYZ corner = triangles->Node(a).Transformed(place).XYZ();
      triangles_.push_back({corner, triangles->Node(b).Transformed(place).XYZ() - corner,
                            triangles->Node(c).Transformed(place).XYZ() - corner});
    }
  }
}

bool Exposure::is_free(const gp_Pnt& from, const gp_Pnt& to) const {
  // Cramer's rule on from + t d = corner + u e1 + v e2 (derived here).
  const gp_XYZ d = to.XYZ() - from.XYZ();
  for (const auto& [corner, e1, e2] : triangles_) {
    const gp_XYZ p = d.Crossed(e2);
    const double determinant = e1.Dot(p);
    if (std::abs(determinant) < 1e-12) continue;
    const gp_XYZ s = from.XYZ() - corner;
    const double u = s.Dot(p) / determinant;
    if (u < 0 || u > 1) continue;
    const gp_XYZ q = s.Crossed(e1);
    const double v = d.Dot(q) / determinant;
    if (v < 0 || u + v > 1) continue;
    const double t = e2.Dot(q) / determinant;
    if (t >= 0 && t <= 1) return false;
  }
  return true;
}

}  // namespace standpoint::scenes
