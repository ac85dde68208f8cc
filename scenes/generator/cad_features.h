#pragma once

#include <array>
#include <functional>
#include <vector>

#include <TopoDS_Shape.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

namespace standpoint::scenes {

/// A place on a face and the direction out of the material there.
struct FacePoint {
  gp_Pnt at;
  gp_Dir normal;
  std::size_t face = 0;  ///< counted in the shape's order
  double face_area = 0;  ///< mm^2
};

/// A full round bore or boss, its half faces merged.
struct RoundFeature {
  gp_Pnt centre;  ///< half-way along
  gp_Dir axis;
  double diameter = 0;
  double length = 0;
  bool inside = false;
};

/// A round hole that opens in a plane square to its axis.
struct HoleInPlane {
  gp_Pnt centre;  ///< in the plane
  gp_Dir axis;    ///< out of the hole
  double diameter = 0;
  double depth = 0;
};

struct CadFeatures {
  std::vector<FacePoint> points;
  std::vector<RoundFeature> rounds;
  std::vector<HoleInPlane> holes;
};

/// Reads features off the faces of a shape: points well inside each, more on a large one, and every
/// cylinder that goes all round, half faces merged by axis, side and radius. A bore that
/// opens in a plane is a hole too. The order follows the shape's faces. O(faces + edges), apart
/// from looking for points inside a face.
[[nodiscard]] CadFeatures find_features(const TopoDS_Shape& shape);

}  // namespace standpoint::scenes
