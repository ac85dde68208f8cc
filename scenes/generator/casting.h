#pragma once

#include <TopTools_ListOfShape.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Ax2.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

namespace standpoint::scenes {

/// An upright box between two corners, mm.
[[nodiscard]] TopoDS_Shape box(const gp_Pnt& low, const gp_Pnt& high);
/// A box whose upright edges are rounded.
[[nodiscard]] TopoDS_Shape rounded_box(const gp_Pnt& low, const gp_Pnt& high, double edge_radius);
/// A cylinder from `base` along `axis`, mm.
[[nodiscard]] TopoDS_Shape cylinder(const gp_Pnt& base, const gp_Dir& axis, double diameter,
                                    double length);
[[nodiscard]] TopoDS_Shape ball(const gp_Pnt& centre, double diameter);

/// A part in the making: what is cast on, and what is machined away afterwards.
class Casting {
 public:
  void add(const TopoDS_Shape& piece) { pieces_.Append(piece); }
  void cut(const TopoDS_Shape& tool) { tools_.Append(tool); }
  /// A round hole of `depth` from `centre` in the surface; `axis` points out of it.
  void drill(const gp_Pnt& centre, const gp_Dir& axis, double diameter, double depth);

  /// The finished solid: all pieces in one, less all tools, faces that continue one another joined.
  /// Null when the kernel fails.
  [[nodiscard]] TopoDS_Shape finish() const;

 private:
  TopTools_ListOfShape pieces_, tools_;
};

}  // namespace standpoint::scenes
