#include "planner/reach/place.h"

#include <cassert>
#include <cmath>
#include <limits>

#include "planner/reach/beam.h"

namespace standpoint {

std::optional<Rule> range_or_elevation_fails(const Instrument& instrument, const Vec3& station,
                                             const Vec3& point, double least_distance) {
  const Vec3 d = point - station;
  const double distance = d.norm();
  if (!instrument.range.contains(distance) || distance <= least_distance) {
    return Rule::out_of_range;
  }
  const double elevation_rad = std::atan2(d.z(), std::hypot(d.x(), d.y()));
  if (!instrument.elevation_rad.contains(elevation_rad)) return Rule::elevation;
  return std::nullopt;
}

std::optional<Contact> fit_fails(const Cell& cell, const Vec3& centre, double radius) {
  return cell.tree().nearest(RoundCone::ball(centre, radius), -cell.scene().rules.fit_tolerance);
}

Cause plain_cause(TargetId target, Rule rule, const Vec3& station, const Vec3& point) {
  Cause cause{};
  cause.target = target;
  cause.rule = rule;
  cause.distance = (point - station).norm();
  return cause;
}

Cause body_cause(TargetId target, Rule rule, const Vec3& station, const Contact& contact) {
  Cause cause = plain_cause(target, rule, station, contact.nearest.at);
  cause.body = contact.body;
  cause.triangle = contact.triangle;
  cause.margin = contact.nearest.margin;
  cause.at = contact.nearest.at;
  return cause;
}

Cause beam_cause(const Cell& cell, TargetId target, const RoundCone& beam) {
  const auto blocker = first_blocker(cell.tree(), beam, cell.scene().rules.min_margin);
  assert(blocker);
  Cause cause{};
  cause.target = target;
  cause.rule = Rule::beam;
  cause.body = blocker->body;
  cause.triangle = blocker->triangle;
  cause.distance = blocker->distance;
  cause.margin = blocker->margin;
  cause.at = blocker->at;
  return cause;
}

double margin_of(const Cell& cell, const RoundCone& beam) {
  const auto contact = cell.tree().nearest(beam);
  return contact ? contact->nearest.margin : std::numeric_limits<double>::infinity();
}

}  // namespace standpoint
