#include "planner/reach/two_ball_view.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/trigonometry.h"
#include "geometry/vec.h"
#include "planner/model/tolerances.h"
#include "planner/reach/beam.h"
#include "planner/reach/place.h"

namespace standpoint {
namespace {

double off_square(const Vec3& direction, const Vec3& toward_station) {
  return std::abs(angle_between(direction, toward_station) - std::numbers::pi / 2);
}

}  // namespace

TwoBallView::TwoBallView(const Instrument& instrument, const TwoBallStylus& stylus,
                         const Vec3& tip_centre, const Stance& station)
    : instrument_(&instrument),
      stylus_(&stylus),
      tip_centre_(tip_centre),
      station_(station.at),
      up_(station.up),
      elevation_sine_{sine(instrument.elevation_rad.low), sine(instrument.elevation_rad.high)},
      acceptance_sine_(stylus.acceptance_rad < std::numbers::pi / 2 ? sine(stylus.acceptance_rad)
                                                                    : 2),
      acceptance_cosine_(std::max(0.0, cosine(stylus.acceptance_rad))) {}

RoundCone TwoBallView::beam(std::size_t ball, const Vec3& direction) const {
  const Vec3 at = centre(ball, direction);
  const Vec3 toward = (station_ - at).normalized();
  return beam_between(*instrument_, station_, at + stylus_->ball_radius * toward);
}

bool TwoBallView::is_outside(std::size_t ball, const Vec3& direction) const {
  return (centre(ball, direction) - station_).norm() > stylus_->ball_radius;
}

double TwoBallView::sway(std::size_t ball, const DirectionPatch& patch) const {
  return stylus_->ball_distances[ball] * patch.radius_chord();
}

/// Of thousands of directions nearly all are told by sines, which cost no arc tangent.
bool TwoBallView::is_elevation_allowed(const Vec3& at, double distance) const {
  const double elevation_sine = (at - station_).dot(up_) / distance;
  if (elevation_sine < elevation_sine_.low - tolerance::kSineSlack ||
      elevation_sine > elevation_sine_.high + tolerance::kSineSlack) {
    return false;
  }
  if (elevation_sine > elevation_sine_.low + tolerance::kSineSlack &&
      elevation_sine < elevation_sine_.high - tolerance::kSineSlack) {
    return true;
  }
  return is_elevation_within(*instrument_, {station_, up_}, at);
}

bool TwoBallView::is_accepted(const Vec3& direction, const Vec3& toward, double distance) const {
  const double off_sine = std::abs(direction.dot(toward)) / distance;
  if (off_sine < acceptance_sine_ - tolerance::kSineSlack) return true;
  if (off_sine > acceptance_sine_ + tolerance::kSineSlack) return false;
  return off_square(direction, toward) <= stylus_->acceptance_rad;
}

std::optional<Rule> TwoBallView::rule_that_fails(const Vec3& direction) const {
  for (const std::size_t ball : kBalls) {
    const Vec3 at = centre(ball, direction);
    const double distance = (at - station_).norm();
    if (!is_range_allowed(*instrument_, distance, stylus_->ball_radius)) return Rule::out_of_range;
    if (!is_elevation_allowed(at, distance)) return Rule::elevation;
    if (!is_accepted(direction, station_ - at, distance)) return Rule::acceptance;
  }
  return std::nullopt;
}

bool TwoBallView::may_pass(const DirectionPatch& patch) const {
  const double radius_rad = patch.radius_rad();
  const Vec3 direction = patch.centre();
  return std::all_of(kBalls.begin(), kBalls.end(), [&](std::size_t ball) {
    const Vec3 d = centre(ball, direction) - station_;
    const double distance = d.norm();
    const double move = sway(ball, patch);
    const Interval& range = instrument_->range;
    if (distance - move > range.high || distance + move < range.low) return false;
    if (move >= distance) return true;
    // From the station no centre of the ball is farther than this beside the middle's: asin(q) <= q
    // + (pi/2 - 1) q^3.
    const double q = move / distance;
    const double turn_rad = q + 0.571 * q * q * q;
    // A sine changes by no more than its angle.
    const double elevation_sine = d.dot(up_) / distance;
    if (elevation_sine - turn_rad > elevation_sine_.high + tolerance::kSineSlack ||
        elevation_sine + turn_rad < elevation_sine_.low - tolerance::kSineSlack) {
      return false;
    }
    // sin(a + b) <= sin(a) + b cos(a) for a + b up to pi/2, where the sine curves down, and beyond
    // that the right side is above 1.
    const double off_sine = std::abs(direction.dot(d)) / distance;
    return off_sine <=
           acceptance_sine_ + (radius_rad + turn_rad) * acceptance_cosine_ + tolerance::kSineSlack;
  });
}

/// Two beams to balls whose centres are s apart: points at the same share of their lengths are at
/// most s apart, as ends drawn in by the ball's radius are no farther apart than the centres, and
/// the radii there differ by what the beam grows over s (docs/reach.md).
double TwoBallView::most_gain(std::size_t ball, const DirectionPatch& patch) const {
  return sway(ball, patch) * (1 + instrument_->beam_growth_rad / 2);
}

std::optional<BeamBundle> TwoBallView::bundle(std::size_t ball, const DirectionPatch& patch) const {
  return BeamBundle::about(station_, centre(ball, patch.centre()), sway(ball, patch),
                           stylus_->ball_radius);
}

std::optional<BeamBundle> TwoBallView::bundle(std::size_t ball) const {
  return BeamBundle::about(station_, tip_centre_, stylus_->ball_distances[ball],
                           stylus_->ball_radius);
}

}  // namespace standpoint
