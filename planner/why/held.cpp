#include "planner/why/held.h"

#include <algorithm>

#include "planner/network/plan_network.h"
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

/// Where the stylus's tip has its centre: in a nest where the full target's would be.
Vec3 tip_centre(const Scene& scene, Subject subject, double tip_radius, const TouchMark& touch) {
  if (const auto* nest = std::get_if<NestId>(&subject)) return scene.nests[nest->index].at;
  const Shape& shape = scene.features[std::get<FeatureId>(subject).index].shape;
  return optical_centre(shape, tip_radius, touch.at, touch.normal);
}

double least_of(const Held& held) {
  return std::min(held.shank_clearance, held.head_clearance);
}

}  // namespace

std::optional<Held> tightest_held(const Cell& cell, Subject subject, const SubjectMark& mark) {
  const Scene& scene = cell.scene();
  std::optional<Held> tightest;
  for (std::size_t i = 0; i < mark.by_target.size(); ++i) {
    const auto& reached = mark.by_target[i];
    if (!reached || !reached->shank_direction) continue;
    const Vec3& direction = *reached->shank_direction;
    const Held held = std::visit(
        [&](const auto& stylus) {
          const Vec3 tip = tip_centre(scene, subject, stylus.shank.tip_radius, mark.touches[i]);
          const ShankRoom room = room_of(cell, stylus, tip);
          return Held{direction, room.clearance(Rule::shank, direction),
                      room.clearance(Rule::head, direction)};
        },
        offset_stylus(scene, reached->target));
    if (!tightest || least_of(held) < least_of(*tightest)) tightest = held;
  }
  return tightest;
}

}  // namespace standpoint
