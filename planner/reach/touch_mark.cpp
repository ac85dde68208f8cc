#include "planner/reach/touch_mark.h"

#include <algorithm>

namespace standpoint {
namespace {

bool is_better(const Scene& scene, const Reached& a, const Reached& b) {
  const bool a_full = is_full_target(scene, a.target), b_full = is_full_target(scene, b.target);
  return a_full != b_full ? a_full : a.margin > b.margin;
}

/// The largest margin of a beam that was tried and is not clear.
std::optional<double> nearest_miss(const std::vector<Cause>& causes) {
  std::optional<double> margin;
  for (const Cause& cause : causes) {
    if (cause.rule == Rule::beam && (!margin || *cause.margin > *margin)) margin = cause.margin;
  }
  return margin;
}

}  // namespace

bool is_any_full(const Scene& scene, const std::vector<Outcome>& outcomes) {
  return std::any_of(outcomes.begin(), outcomes.end(), [&](const Outcome& outcome) {
    const auto* reached = std::get_if<Reached>(&outcome);
    return reached != nullptr && is_full_target(scene, reached->target);
  });
}

TouchMark judge_touch(const Scene& scene, const Touch& touch, const std::vector<Outcome>& outcomes,
                      Causes causes) {
  TouchMark mark;
  mark.at = touch.at;
  mark.normal = touch.normal;
  mark.optical_centre = touch.optical_centre;
  for (const Outcome& outcome : outcomes) {
    if (const auto* reached = std::get_if<Reached>(&outcome)) {
      if (!mark.best || is_better(scene, *reached, *mark.best)) mark.best = *reached;
    } else if (causes == Causes::told) {
      mark.causes.push_back(std::get<Cause>(outcome));
    }
  }
  if (!mark.best) {
    mark.margin = nearest_miss(mark.causes);
    return mark;
  }
  mark.verdict = verdict_by(scene, mark.best->target);
  mark.margin = mark.best->margin;
  mark.optical_centre = mark.best->optical_centre;
  mark.causes.clear();
  return mark;
}

}  // namespace standpoint
