#include "standpoint/why.h"

#include "planner/model/tolerances.h"
#include "planner/reach/beam.h"
#include "planner/why/cure.h"
#include "planner/why/obstruction.h"
#include "planner/why/steadiness.h"
#include "planner/why/subject.h"

namespace standpoint {
namespace {

/// How near a body may come to the solid of a cause.
double allowed_margin(const Rules& rules, Rule rule) {
  return rule == Rule::beam ? rules.min_margin : -rules.fit_tolerance;
}

/// What stands deepest in a hole adapter's base, which is no round cone to look along.
Obstruction in_base(const Cause& cause, const Vec3& axis) {
  Obstruction found;
  found.body = *cause.body;
  found.triangle = *cause.triangle;
  found.face = cause.face;
  found.distance = *cause.distance;
  found.margin = *cause.margin;
  found.at = *cause.at;
  Vec3 off = found.at - cause.optical_centre;
  off -= off.dot(axis) * axis;
  if (off.norm() > tolerance::kOnAxis) found.side = off.normalized();
  return found;
}

ExplainedTouch explain(const Cell& cell, const Vec3& station, const TouchMark& mark) {
  ExplainedTouch touch{mark, {}, {}};
  const Rules& rules = cell.scene().rules;
  for (const Cause& cause : mark.causes) {
    ExplainedCause& explained = touch.causes.emplace_back();
    explained.cause = cause;
    if (!cause.solid) {
      if (cause.body) explained.bodies = {in_base(cause, mark.normal)};
      continue;
    }
    explained.bodies = obstructions(cell, *cause.solid, allowed_margin(rules, cause.rule));
  }
  if (!mark.best || mark.best->margin >= rules.tight_margin) return touch;
  for (const Vec3& end : mark.best->beam_ends) {
    const RoundCone beam = beam_between(cell.scene().instrument, station, end);
    const auto near = obstructions(cell, beam, rules.tight_margin);
    touch.grazes.insert(touch.grazes.end(), near.begin(), near.end());
  }
  return touch;
}

}  // namespace

Diagnosis diagnose(const Cell& cell, Subject subject, const Stance& station,
                   const std::vector<OtherPlace>& places, const CureSearch& search,
                   const Watch& watch) {
  Diagnosis diagnosis;
  diagnosis.subject = subject;
  diagnosis.station = station.at;
  diagnosis.up = station.up;
  diagnosis.mark = SubjectReach(cell, subject).mark(station);
  for (const TouchMark& touch : diagnosis.mark.touches) {
    diagnosis.touches.push_back(explain(cell, station.at, touch));
  }
  if (diagnosis.mark.verdict != Verdict::full_target) {
    diagnosis.cures = find_cures(cell, subject, station, places, search, watch);
  }
  if (diagnosis.mark.verdict != Verdict::blocked && !watch.is_interrupted()) {
    diagnosis.station_shift = station_steadiness(cell, subject, station);
    diagnosis.part_shift = part_steadiness(cell, subject, station);
  }
  return diagnosis;
}

}  // namespace standpoint
