#pragma once

#include <cstddef>
#include <vector>

#include "planner/part/face.h"

namespace standpoint {

/// An axis to look at faces about: heights along it, angles about it.
struct Axis {
  Vec3 at = Vec3::Zero();
  Vec3 direction = Vec3::UnitZ();
  Vec3 first = Vec3::UnitX(), second = Vec3::UnitY();  ///< angle 0 and a quarter of a round

  [[nodiscard]] double height(const Vec3& p) const { return direction.dot(p - at); }
  [[nodiscard]] double off(const Vec3& p) const { return direction.cross(p - at).norm(); }
  [[nodiscard]] Vec3 on(double height) const { return at + height * direction; }
};

/// Precondition: `direction` is a unit vector.
[[nodiscard]] Axis axis_along(const Vec3& at, const Vec3& direction);

/// Where a wall ends, one way along its axis.
struct WallEnd {
  double level = 0;      ///< mean height of its rim
  bool outward = false;  ///< hollow: what follows leads away from the axis, wider or into the open
  std::vector<std::size_t> beyond;  ///< the faces that say so: indices into the part, ascending
};

/// A cylinder or cone as it stands: all its faces, halves and quarters merged, from one end to the
/// other without a gap that goes all the way round.
struct RoundWall {
  SurfaceKind kind = SurfaceKind::cylinder;
  Axis axis;
  double radius = 0;          ///< of a cone at height 0
  double half_angle_rad = 0;  ///< of a cone, which gets wider along its axis
  bool hollow = false;
  double slack = 0;                ///< how far it may be off others that belong with it, mm
  std::vector<std::size_t> faces;  ///< indices into the part, ascending
  double share = 0;                ///< of the round, at the height where it is most
  Vec3 middle = Vec3::Zero();      ///< mean direction from the axis to the wall; 0 if all round
  WallEnd low, high;
};

/// Which faces can be looked at: numbers finite, directions of length one, sizes sensible.
[[nodiscard]] std::vector<bool> usable_faces(const PartFaces& part);

/// All walls of one kind, cylinder or cone. Each is seen along 360 rays from its axis; where the
/// rim crosses a ray says what is wall there, whichever way the rim runs. A cylinder's axis points
/// up (then to +Y, then to +X).
[[nodiscard]] std::vector<RoundWall> round_walls(const PartFaces& part,
                                                 const std::vector<bool>& usable, SurfaceKind kind);

/// How far a face may be off others that belong with it, mm.
[[nodiscard]] double slack_of(const Face& face);

/// `direction` or its opposite: the one that points up, where level to +Y, then to +X.
[[nodiscard]] Vec3 upward(const Vec3& direction);

}  // namespace standpoint
