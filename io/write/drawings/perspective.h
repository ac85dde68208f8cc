#pragma once

#include <vector>

#include "geometry/round_cone.h"
#include "geometry/vec.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// What an eye in the measuring centre sees on an upright plane across its line of sight: the world
/// projected from the centre, in mm on that plane, (0, 0) on the line of sight, right and up as
/// somebody upright sees them (straight up or down: right is +X).
class Perspective {
 public:
  /// From `centre`, looking at `at`; the plane goes through `at`. Precondition: they differ.
  Perspective(const Vec3& centre, const Vec3& at);

  /// How far the plane is, mm.
  [[nodiscard]] double distance() const { return distance_; }
  /// How far `p` is along the line of sight, mm; negative behind the eye.
  [[nodiscard]] double depth(const Vec3& p) const { return (p - centre_).dot(along_); }
  /// How much larger something at `depth` is drawn than at the plane. Precondition: depth > 0.
  [[nodiscard]] double enlargement(double depth) const { return distance_ / depth; }
  /// Precondition: depth(p) > 0.
  [[nodiscard]] Vec2 project(const Vec3& p) const;
  /// The parts of a shift that run right and up, mm.
  [[nodiscard]] Vec2 across(const Vec3& shift) const { return {shift.dot(right_), shift.dot(up_)}; }

  /// The part of `mesh` at depths within [from, to], projected: (x, y, 0). Triangles are cut at
  /// both ends. Precondition: 0 < from <= to. O(triangles).
  [[nodiscard]] Mesh project(const Mesh& mesh, double from, double to) const;

  /// The outline of a round cone as a convex polygon, counter-clockwise. Its end balls are drawn as
  /// circles, which off the line of sight is exact to the second order of the angle. Precondition:
  /// both ends lie before the eye.
  [[nodiscard]] std::vector<Vec2> outline(const RoundCone& cone) const;

 private:
  Vec3 centre_, along_, right_, up_;
  double distance_;
};

}  // namespace standpoint
