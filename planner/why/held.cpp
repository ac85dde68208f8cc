#include "planner/why/held.h"

#include <algorithm>

#include "planner/reach/shank_room.h"

namespace standpoint {
namespace {

ShankRoom room_of(const Cell& cell, const MirrorStylus& mirror, const Vec3& tip_centre) {
  return {cell, tip_centre, mirror.shank, mirror.length, {mirror.length}, mirror.head_radius};
}

ShankRoom room_of(const Cell& cell, const TwoBallStylus& rod, const Vec3& tip_centre) {
  return {cell,
          tip_centre,
          rod.shank,
          rod.ball_distances[1],
          {rod.ball_distances[0], rod.ball_distances[1]},
          rod.ball_radius};
}

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
    const Held held = std::visit(
        [&](const auto& stylus) {
          const ShankRoom room = room_of(cell, stylus, reached->optical_centre);
          return Held{direction, room.clearance(Rule::shank, direction),
                      room.clearance(Rule::head, direction)};
        },
        offset_stylus(scene, reached->target));
    if (!tightest || least_of(held) < least_of(*tightest)) tightest = held;
  }
  return tightest;
}

}  // namespace standpoint
