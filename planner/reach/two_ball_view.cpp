#include "planner/reach/two_ball_view.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "planner/reach/beam.h"
#include "planner/reach/place.h"

namespace standpoint {
namespace {

/// Far above the rounding of an angle, far below anything that matters: a bound may err by so much.
constexpr double kAngleSlack = 1e-9;

double off_square(const Vec3& direction, const Vec3& toward_station) {
  return std::abs(angle_between(direction, toward_station) - std::numbers::pi / 2);
}

}  // namespace

TwoBallView::TwoBallView(const Instrument& instrument, const TwoBallStylus& stylus,
                         const Vec3& tip_centre, const Vec3& station)
    : instrument_(&instrument), stylus_(&stylus), tip_centre_(tip_centre), station_(station) {}

RoundCone TwoBallView::beam(std::size_t ball, const Vec3& direction) const {
  const Vec3 at = centre(ball, direction);
  const Vec3 toward = (station_ - at).normalized();
  return beam_between(*instrument_, station_, at + stylus_->ball_radius * toward);
}

std::optional<Rule> TwoBallView::rule_that_fails(const Vec3& direction) const {
  for (const std::size_t ball : kBalls) {
    const Vec3 at = centre(ball, direction);
    if (const auto rule =
            range_or_elevation_fails(*instrument_, station_, at, stylus_->ball_radius)) {
      return rule;
    }
    if (off_square(direction, station_ - at) > stylus_->acceptance_rad) return Rule::acceptance;
  }
  return std::nullopt;
}

bool TwoBallView::may_pass(const DirectionPatch& patch) const {
  const double radius_rad = patch.radius_rad();
  const Vec3 direction = patch.centre();
  return std::all_of(kBalls.begin(), kBalls.end(), [&](std::size_t ball) {
    const Vec3 at = centre(ball, direction);
    const double distance = (at - station_).norm();
    // No ball centre of the patch is farther than this from `at` ...
    const double move = stylus_->ball_distances[ball] * 2 * sine(radius_rad / 2);
    const Interval& range = instrument_->range;
    if (distance - move > range.high || distance + move < range.low) return false;
    if (move >= distance) return true;
    // ... nor, from the station, by more than this beside it.
    const double turn_rad = arc_sine(move / distance) + kAngleSlack;
    const Vec3 d = at - station_;
    const double elevation_rad = arc_tangent(d.z(), hypotenuse(d.x(), d.y()));
    const Interval& elevation = instrument_->elevation_rad;
    if (elevation_rad - turn_rad > elevation.high || elevation_rad + turn_rad < elevation.low) {
      return false;
    }
    return off_square(direction, station_ - at) <= stylus_->acceptance_rad + radius_rad + turn_rad;
  });
}

std::optional<BeamBundle> TwoBallView::bundle(std::size_t ball, const DirectionPatch& patch) const {
  const Vec3 direction = patch.centre();
  const double distance = stylus_->ball_distances[ball];
  const double move = distance * 2 * sine(patch.radius_rad() / 2);
  const double nearest = (centre(ball, direction) - station_).norm() - move;
  if (nearest <= stylus_->ball_radius) return std::nullopt;
  // Drawn in towards the station by so much that every beam reaches beyond the hull.
  const double share = 1 - stylus_->ball_radius / nearest;
  const auto draw_in = [&](const Vec3& d) -> Vec3 {
    return station_ + share * (tip_centre_ + distance * d - station_);
  };
  BeamBundle bundle{{}, draw_in(direction)};
  const std::array<Vec3, 8> hull = patch.hull();
  std::transform(hull.begin(), hull.end(), bundle.hull.begin(), draw_in);
  return bundle;
}

}  // namespace standpoint
