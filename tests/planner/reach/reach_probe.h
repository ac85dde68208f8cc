#pragma once

#include <optional>

#include "planner/reach/sight.h"
#include "planner/reach/target_at.h"
#include "standpoint/cell.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {

/// One target at one place from one station; how it reaches, or why not.
[[nodiscard]] inline Outcome look_at(const MadeScene& scene, std::size_t target, const Place& place,
                                     const Stance& station) {
  const Cell cell = cell_of(scene);
  TargetAt at = make_target_at(cell, TargetId(target), place);
  const Outcome outcome = look(at, station);
  // Whatever is asked, the short answer must agree with the long one.
  if (reaches_from(at, {&station, 1}).front() != std::holds_alternative<Reached>(outcome)) {
    throw std::logic_error("reaches_from() and look() disagree");
  }
  return outcome;
}

/// The same with the target's ball or tip resting on a point of a surface.
[[nodiscard]] inline Outcome look_at_point(const MadeScene& scene, std::size_t target,
                                           const Vec3& point, const Vec3& normal,
                                           const Stance& station) {
  const double radius = touching_radius(scene, TargetId(target));
  return look_at(scene, target, {point + radius * normal, normal, 0, false}, station);
}

[[nodiscard]] inline const Reached* reached(const Outcome& outcome) {
  return std::get_if<Reached>(&outcome);
}
[[nodiscard]] inline const Cause* cause(const Outcome& outcome) {
  return std::get_if<Cause>(&outcome);
}
/// The rule that fails; nothing where it reaches.
[[nodiscard]] inline std::optional<Rule> rule(const Outcome& outcome) {
  const Cause* why = cause(outcome);
  return why != nullptr ? std::optional(why->rule) : std::nullopt;
}

}  // namespace standpoint::test
