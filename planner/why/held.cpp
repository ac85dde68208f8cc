#include "planner/why/held.h"

#include <algorithm>

#include "planner/reach/shank_room.h"

namespace standpoint {
namespace {

double least_of(const Held& held) {
  return std::min(held.shank_clearance, held.head_clearance);
}

}  // namespace

std::optional<Held> tightest_held(const Cell& cell, const SubjectMark& mark) {
  const Scene& scene = cell.scene();
  std::optional<Held> tightest;
  for (const auto& reached : mark.by_target) {
    if (!reached || !reached->shank_direction) continue;
    const Vec3& direction = *reached->shank_direction;
    const ShankRoom room(cell, reached->optical_centre, offset_stylus(scene, reached->target));
    const Held held{direction, room.clearance(Rule::shank, direction),
                    room.clearance(Rule::head, direction)};
    if (!tightest || least_of(held) < least_of(*tightest)) tightest = held;
  }
  return tightest;
}

}  // namespace standpoint
