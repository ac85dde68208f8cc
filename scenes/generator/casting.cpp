#include "casting.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRep_Tool.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

namespace standpoint::scenes {

TopoDS_Shape box(const gp_Pnt& low, const gp_Pnt& high) {
  return BRepPrimAPI_MakeBox(low, high).Shape();
}

TopoDS_Shape rounded_box(const gp_Pnt& low, const gp_Pnt& high, double edge_radius) {
  const TopoDS_Shape plain = box(low, high);
  BRepFilletAPI_MakeFillet fillet(plain);
  TopTools_IndexedMapOfShape edges;
  TopExp::MapShapes(plain, TopAbs_EDGE, edges);
  for (int i = 1; i <= edges.Extent(); ++i) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
    const gp_Pnt from = BRep_Tool::Pnt(TopExp::FirstVertex(edge));
    const gp_Pnt to = BRep_Tool::Pnt(TopExp::LastVertex(edge));
    if (std::abs(from.Z() - to.Z()) > 1e-6) fillet.Add(edge_radius, edge);
  }
  return fillet.Shape();
}

TopoDS_Shape cylinder(const gp_Pnt& base, const gp_Dir& axis, double diameter, double length) {
  return BRepPrimAPI_MakeCylinder(gp_Ax2(base, axis), diameter / 2, length).Shape();
}

TopoDS_Shape ball(const gp_Pnt& centre, double diameter) {
  return BRepPrimAPI_MakeSphere(centre, diameter / 2).Shape();
}

void Casting::drill(const gp_Pnt& centre, const gp_Dir& axis, double diameter, double depth) {
  // The tool starts 1 mm outside, so that no face of it lies in the surface that it opens.
  const gp_Pnt start = centre.Translated(gp_Vec(axis) * 1.0);
  cut(cylinder(start, axis.Reversed(), diameter, depth + 1));
}

TopoDS_Shape Casting::finish() const {
  TopTools_ListOfShape first, rest = pieces_;
  first.Append(rest.First());
  rest.RemoveFirst();
  BRepAlgoAPI_Fuse fuse;
  fuse.SetArguments(first);
  fuse.SetTools(rest);
  fuse.Build();
  if (fuse.HasErrors()) return {};

  TopoDS_Shape shape = fuse.Shape();
  if (!tools_.IsEmpty()) {
    TopTools_ListOfShape body;
    body.Append(shape);
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(body);
    cut.SetTools(tools_);
    cut.Build();
    if (cut.HasErrors()) return {};
    shape = cut.Shape();
  }

  ShapeUpgrade_UnifySameDomain unify(shape);
  unify.Build();
  const TopExp_Explorer solid(unify.Shape(), TopAbs_SOLID);
  return solid.More() ? solid.Current() : TopoDS_Shape();
}

}  // namespace standpoint::scenes
