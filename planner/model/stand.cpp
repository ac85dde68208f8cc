#include "planner/model/stand.h"

#include "geometry/tree/tree.h"
#include "geometry/trigonometry.h"

namespace standpoint {

double elevation_of(const Stance& stance, const Vec3& point) {
  const Vec3 d = point - stance.at;
  // Upright this is (d.z, (d.y, -d.x, 0)), without a rounding.
  const Vec3 across = d.cross(stance.up);
  return arc_tangent(d.dot(stance.up), hypotenuse(hypotenuse(across.y(), across.x()), across.z()));
}

std::optional<BodyId> body_in_the_way(const Cell& cell, const Stance& stance) {
  const Instrument& instrument = cell.scene().instrument;
  return cell.tree().first_cut_by(
      {stance.at, stance.up, instrument.body_radius, instrument.body_above, instrument.body_below});
}

}  // namespace standpoint
