#pragma once

#include <cstddef>
#include <vector>

#include "geometry/vec.h"
#include "planner/part/face.h"

namespace standpoint::test {

/// How a drilled hole ends.
enum class HoleEnd { through, flat, tip };

/// One cylinder of a drilled hole, from the top down.
struct Bore {
  double radius = 5;
  double depth = 10;
};

/// A hole drilled down from the top of a block.
struct Drilling {
  double x = 0, y = 0;
  std::vector<Bore> bores;
  HoleEnd end = HoleEnd::through;
  double countersink = 0;  ///< radius of a cone of 45 degrees at the top; 0: none
  std::size_t pieces = 1;  ///< faces that each cylinder is made of, round the axis
  double notch_rad = 0;    ///< angle that is missing of each cylinder
  bool is_seamed = false;  ///< a wall of one piece has a seam
  double round = 0;        ///< radius of a rounded opening and bottom
};

/// Parts made of faces by hand: what CAD would give, with rims of 48 points to a round.
class PartBuilder {
 public:
  /// A block from z = bottom to z = top over a rectangle, with holes from its top.
  PartBuilder& block(double x, double y, double wide, double deep, double bottom, double top,
                     const std::vector<Drilling>& drillings = {});
  /// A cylinder that stands on z = bottom, closed by a plane at z = top.
  PartBuilder& boss(double x, double y, double radius, double bottom, double top);
  /// A slot through a block from z = bottom to z = top, along x: half rounds at both ends, or at
  /// one alone.
  PartBuilder& slot(double x, double y, double width, double length, double bottom, double top,
                    bool is_whole = true);
  /// A piece of a cylinder's wall along z with nothing beyond it.
  PartBuilder& loose_wall(double x, double y, double radius, double bottom, double top,
                          double from_rad, double to_rad, bool hollow);
  /// What follows belongs to another solid.
  PartBuilder& next_solid();

  /// All faces, numbered from 1, their edges joined to the faces beyond by their places.
  [[nodiscard]] PartFaces done() const;

 private:
  std::size_t plane(const Vec3& at, const Vec3& normal);
  std::size_t round(SurfaceKind kind, const Vec3& at, double radius, bool hollow);
  void rim(std::size_t face, const std::vector<std::vector<Vec3>>& edges, EdgeBend bend);
  void drill(const Drilling& drilling, std::size_t top, std::size_t bottom);
  void torus(const Drilling& drilling, double axis_to_tube, double z, bool hollow, double rim_wide,
             double z_wide, double rim_narrow, double z_narrow);
  void wall(const Drilling& drilling, double radius, double low, double high, EdgeBend at_low,
            EdgeBend at_high);

  PartFaces part_;
  std::size_t solid_ = 0;
  double top_ = 0, bottom_ = 0;
};

/// The part moved as a rigid body, or mirrored where `move` is a reflection (its linear part with
/// determinant -1): directions and loops are turned as the surface of the moved part has them.
[[nodiscard]] PartFaces moved(PartFaces part, const Mat3& turn, const Vec3& shift);

/// The faces in another order: new[i] = old[order[i]]; their numbers in the file go with the place.
[[nodiscard]] PartFaces reordered(const PartFaces& part, const std::vector<std::size_t>& order);

/// Every loop the other way round, and begun at another edge.
[[nodiscard]] PartFaces turned_round(PartFaces part);

}  // namespace standpoint::test
