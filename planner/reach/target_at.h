#pragma once

#include <variant>

#include "planner/reach/full_target.h"
#include "planner/reach/mirror_stylus.h"
#include "planner/reach/two_ball_stylus.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// Any target at one place.
using TargetAt = std::variant<FullTargetAt, MirrorStylusAt, TwoBallStylusAt>;

[[nodiscard]] inline TargetAt make_target_at(const Cell& cell, TargetId target,
                                             const Place& place) {
  const Scene& scene = cell.scene();
  if (is_full_target(scene, target)) return FullTargetAt(cell, target, place);
  if (std::holds_alternative<MirrorStylus>(offset_stylus(scene, target))) {
    return MirrorStylusAt(cell, target, place);
  }
  return TwoBallStylusAt(cell, target, place);
}

[[nodiscard]] inline std::vector<bool> reaches_from(TargetAt& target,
                                                    std::span<const Stance> stations) {
  return std::visit([&](auto& t) { return t.reaches_from(stations); }, target);
}
/// The margin that look() gives where the target reaches; nothing where it does not.
[[nodiscard]] inline std::optional<double> margin_if_reached(TargetAt& target,
                                                             const Stance& station) {
  return std::visit([&](auto& t) { return t.margin_if_reached(station); }, target);
}
[[nodiscard]] inline Outcome look(TargetAt& target, const Stance& station,
                                  Causes causes = Causes::told) {
  return std::visit([&](auto& t) { return t.look(station, causes); }, target);
}

}  // namespace standpoint
