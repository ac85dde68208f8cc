#pragma once

#include <optional>
#include <variant>

#include "geometry/tree/tree.h"
#include "planner/model/touch.h"
#include "standpoint/cell.h"
#include "standpoint/sight.h"

namespace standpoint {

/// Where one target's ball or tip sits: at a touch, or in a nest.
struct Place {
  Vec3 optical_centre;   ///< C
  Vec3 normal;           ///< n
  double seat_rad = 0;   ///< half-angle of the contact ring about -n; 0 for a touch
  bool is_nest = false;  ///< then no fit is asked: the seat is there to hold the ball
};

[[nodiscard]] inline Place place_of(const Touch& touch) {
  return {touch.optical_centre, touch.normal, 0, false};
}
[[nodiscard]] inline Place place_of(const Nest& nest) {
  return {nest.at, nest.normal, nest.seat_rad, true};
}

/// How a target reaches a place, or why not.
using Outcome = std::variant<Reached, Cause>;

/// Whether a look finds out why something is not reached. That may take longer than finding out
/// that it is not. Where causes are left out, a `Cause` names its target and says nothing more.
enum class Causes : std::uint8_t { told, left_out };

/// Rule 2 of contract section 3, in parts: whether a distance is allowed (a point nearer than
/// `least_distance`, where the beam ends, is out of range), and an elevation, about the standing
/// axis.
[[nodiscard]] inline bool is_range_allowed(const Instrument& instrument, double distance,
                                           double least_distance) {
  return instrument.range.contains(distance) && distance > least_distance;
}
[[nodiscard]] bool is_elevation_within(const Instrument& instrument, const Stance& station,
                                       const Vec3& point);
/// Rule 2 as a whole: the first of range and elevation that fails for a point seen from
/// `station`.
[[nodiscard]] std::optional<Rule> range_or_elevation_fails(const Instrument& instrument,
                                                           const Stance& station, const Vec3& point,
                                                           double least_distance);

/// Rule 1 of contract section 3: the nearest body where it comes nearer to the centre of a ball
/// than its radius less `fit_tolerance` (less `tolerance::fit_error`).
[[nodiscard]] std::optional<Contact> fit_fails(const Cell& cell, const Vec3& centre, double radius);

/// What stands for a cause where causes are left out.
[[nodiscard]] inline Cause untold_cause(TargetId target) {
  Cause cause;
  cause.target = target;
  return cause;
}

/// The same of a hole adapter's base, a cylinder about the hole's axis from the rim's plane up to
/// the ball at `place`: what stands deeper in it than `fit_tolerance` (contract section 9). The
/// part's face round the hole touches it, and is no misfit.
[[nodiscard]] std::optional<Contact> base_fit_fails(const Cell& cell, const HoleAdapter& adapter,
                                                    const Place& place);

/// A cause that names no body; distance is that of `point`, the optical centre.
[[nodiscard]] Cause plain_cause(TargetId target, Rule rule, const Vec3& station, const Vec3& point);

/// A cause for which `contact` stands in `solid` of the target; distance is along the
/// line from the station to `optical_centre`, to beside the contact.
[[nodiscard]] Cause body_cause(const Cell& cell, TargetId target, Rule rule, const Vec3& station,
                               const Vec3& optical_centre, const Contact& contact,
                               const RoundCone& solid);

/// The cause of a beam that is not clear by `min_margin`. Precondition: it is not.
[[nodiscard]] Cause beam_cause(const Cell& cell, TargetId target, const RoundCone& beam,
                               const Vec3& optical_centre);

/// The margin of a clear beam, mm; infinite where there is no body at all.
[[nodiscard]] double margin_of(const Cell& cell, const RoundCone& beam);

}  // namespace standpoint
