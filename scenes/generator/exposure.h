#pragma once

#include <array>
#include <vector>

#include <TopoDS_Shape.hxx>
#include <gp_Pnt.hxx>

namespace standpoint::scenes {

/// Whether straight lines are free of a shape, roughly: on a mesh with a chord of 5 mm, every
/// triangle tried. Only for choosing features worth asking for; shares nothing with the program.
class Exposure {
 public:
  explicit Exposure(const TopoDS_Shape& shape);

  [[nodiscard]] bool is_free(const gp_Pnt& from, const gp_Pnt& to) const;

 private:
  std::vector<std::array<gp_XYZ, 3>> triangles_;  ///< a corner, and two edges from it
};

}  // namespace standpoint::scenes
