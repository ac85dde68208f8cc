#include "planner/reach/place.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "geometry/mesh.h"
#include "geometry/tree/tree.h"
#include "planner/model/stand.h"
#include "planner/model/tolerances.h"
#include "planner/reach/beam.h"

namespace standpoint {
namespace {

void name_place(const Cell& cell, BodyId body, TriangleId triangle, Cause& cause) {
  cause.body = body;
  cause.triangle = triangle;
  cause.face = face_name(cell.mesh(body), triangle);
}

}  // namespace

bool is_elevation_within(const Instrument& instrument, const Stance& station, const Vec3& point) {
  return instrument.elevation_rad.contains(elevation_of(station, point));
}

std::optional<Rule> range_or_elevation_fails(const Instrument& instrument, const Stance& station,
                                             const Vec3& point, double least_distance) {
  if (!is_range_allowed(instrument, (point - station.at).norm(), least_distance))
    return Rule::out_of_range;
  if (!is_elevation_within(instrument, station, point)) return Rule::elevation;
  return std::nullopt;
}

std::optional<Contact> fit_fails(const Cell& cell, const Vec3& centre, double radius) {
  const auto contact =
      cell.tree().nearest(RoundCone::ball(centre, radius), -cell.scene().rules.fit_tolerance);
  if (!contact) return std::nullopt;
  double reach = centre.cwiseAbs().maxCoeff();
  for (const Vec3& corner : cell.tree().corners(contact->body, contact->triangle)) {
    reach = std::max(reach, corner.cwiseAbs().maxCoeff());
  }
  const double least = -cell.scene().rules.fit_tolerance - tolerance::fit_error(reach);
  return contact->nearest.margin < least ? contact : std::nullopt;
}

std::optional<Contact> base_fit_fails(const Cell& cell, const HoleAdapter& adapter,
                                      const Place& place) {
  const double ball = cell.scene().full_targets[adapter.ball.index].radius;
  if (adapter.height <= ball) return std::nullopt;  // the ball reaches down to the rim's plane
  const Cylinder base{place.optical_centre, place.normal, adapter.base_radius, -ball,
                      adapter.height};
  return cell.tree().deepest_in(base, cell.scene().rules.fit_tolerance);
}

Cause plain_cause(TargetId target, Rule rule, const Vec3& station, const Vec3& point) {
  Cause cause{};
  cause.target = target;
  cause.rule = rule;
  cause.distance = (point - station).norm();
  cause.optical_centre = point;
  return cause;
}

Cause body_cause(const Cell& cell, TargetId target, Rule rule, const Vec3& station,
                 const Vec3& optical_centre, const Contact& contact, const RoundCone& solid) {
  Cause cause = plain_cause(target, rule, station, optical_centre);
  const Vec3 along = (optical_centre - station).normalized();
  cause.solid = solid;
  name_place(cell, contact.body, contact.triangle, cause);
  cause.distance = (contact.nearest.at - station).dot(along);
  cause.margin = contact.nearest.margin;
  cause.at = contact.nearest.at;
  return cause;
}

Cause beam_cause(const Cell& cell, TargetId target, const RoundCone& beam,
                 const Vec3& optical_centre) {
  Cause cause = plain_cause(target, Rule::beam, beam.start, beam.end);
  cause.optical_centre = optical_centre;
  const auto blocker = first_blocker(cell.tree(), beam, cell.scene().rules.min_margin);
  if (!blocker) {
    // Inside the error bound of clear, which only beyond a kilometre is more than first_blocker
    // looks past.
    const auto contact = cell.tree().nearest(beam);
    assert(contact);
    cause = body_cause(cell, target, Rule::beam, beam.start, beam.end, *contact, beam);
    cause.optical_centre = optical_centre;
    return cause;
  }
  cause.solid = beam;
  name_place(cell, blocker->body, blocker->triangle, cause);
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
