#include "planner/model/stand.h"

#include "geometry/tree/tree.h"

namespace standpoint {

std::optional<BodyId> body_in_the_way(const Cell& cell, const Vec3& at) {
  const Instrument& instrument = cell.scene().instrument;
  return cell.tree().first_cut_by(
      {at, instrument.body_radius, instrument.body_above, instrument.body_below});
}

}  // namespace standpoint
