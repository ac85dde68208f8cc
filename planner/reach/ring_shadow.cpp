#include "planner/reach/ring_shadow.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/trigonometry.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kSectorWidth = kTurn / BallRing::kSectors;

/// A ring is thin while the rod leans by no more than this, rad: 69 degrees, where a ball has come
/// to within a third of its way to the line of sight.
constexpr double kMostTilt = 1.2;
/// And while the station is at least so many times as far as the nearer ball from the tip.
constexpr double kLeastDistance = 3;

}  // namespace

/// In the triangle of station, tip and nearer ball the angle at the station is at most asin(ball
/// distance / station distance). Acceptance holds the angle at the ball to a right angle, more or
/// less; that at the tip differs by the one at the station.
std::optional<BallRing> BallRing::about(const TwoBallStylus& stylus, const Vec3& tip_centre,
                                        const Vec3& station) {
  BallRing ring;
  ring.stylus_ = &stylus;
  ring.tip_centre_ = tip_centre;
  ring.station_ = station;
  ring.distance_ = (tip_centre - station).norm();
  const double nearer = stylus.ball_distances[0];
  if (!(ring.distance_ >= kLeastDistance * nearer)) return std::nullopt;
  const double tilt_rad =
      stylus.acceptance_rad + arc_sine(nearer / ring.distance_) + tolerance::kSineSlack;
  if (!(tilt_rad <= kMostTilt)) return std::nullopt;
  ring.tilt_sine_ = sine(tilt_rad);
  ring.tilt_cosine_ = cosine(tilt_rad);
  ring.sight_ = (tip_centre - station) / ring.distance_;
  ring.across_ = ring.sight_.unitOrthogonal();
  ring.up_ = ring.sight_.cross(ring.across_);
  return ring;
}

/// As seen along the line of sight, a ball at d from the tip lies between d cos(tilt) and d from
/// it, and within half a sector of the sector's middle direction. Measured from a point between the
/// two, no centre is farther off than `rho` across the line of sight and `h` along it. The line
/// from the station to that point is turned off the line of sight by an angle of sine q, so a
/// centre is no farther than rho + h q from this line, and no more than h + rho q before its end.
std::optional<BeamBundle> BallRing::bundle(std::size_t ball, int sector) const {
  const double d = stylus_->ball_distances[ball];
  const double half = kSectorWidth / 2 + tolerance::kSineSlack;
  const double cos_half = cosine(half), sin_half = sine(half);
  const double middle = (1 + tilt_cosine_) / 2;
  const double rho =
      d * std::max(hypotenuse(cos_half - middle, sin_half),
                   hypotenuse(tilt_cosine_ * cos_half - middle, tilt_cosine_ * sin_half));
  const double h = d * tilt_sine_;
  const double azimuth = (sector + 0.5) * kSectorWidth;
  const Vec3 at = tip_centre_ + d * middle * (cosine(azimuth) * across_ + sine(azimuth) * up_);
  const double f = (at - station_).norm();
  const double q = d * middle / f;
  return BeamBundle::within(station_, at, f - h - rho * q, rho + h * q, stylus_->ball_radius);
}

double BallRing::azimuth_rad(const Vec3& direction) const {
  const double azimuth = arc_tangent(direction.dot(up_), direction.dot(across_));
  return azimuth < 0 ? azimuth + kTurn : azimuth;
}

int BallRing::sector_of(const Vec3& direction) const {
  // Where rounding moves a direction over a limit, the sector's slack holds it.
  return std::min(static_cast<int>(azimuth_rad(direction) / kSectorWidth), kSectors - 1);
}

/// Directions within e of one that lies `flat` across the line of sight differ from it in azimuth
/// by at most asin(sin e / flat), and by any where they hold the line itself.
BallRing::Sectors BallRing::sectors_of(const DirectionPatch& patch) const {
  const Vec3& centre = patch.centre();
  const double flat = hypotenuse(centre.dot(across_), centre.dot(up_));
  const double share = patch.radius_chord() / flat;  // the chord is a little more than the sine
  constexpr double kNearlyAll = 0.99;
  if (!(share < kNearlyAll)) return {};
  // asin(q) <= q + (pi/2 - 1) q^3
  const double width = share + 0.571 * share * share * share + tolerance::kSineSlack;
  const double azimuth = azimuth_rad(centre);
  const int first = static_cast<int>(std::floor((azimuth - width) / kSectorWidth));
  const int last = static_cast<int>(std::floor((azimuth + width) / kSectorWidth));
  return {(first + kSectors) % kSectors, std::min(last - first + 1, kSectors)};
}

bool RingShadow::hides(int sector) {
  Known& known = known_[static_cast<std::size_t>(sector)];
  if (known != Known::nothing) return known == Known::hidden;
  known = Known::open;
  for (const std::size_t ball : {first_tried_, 1 - first_tried_}) {
    const auto bundle = ring_.bundle(ball, sector);
    if (!bundle || !shadows_->finds_one_over(*bundle)) continue;
    first_tried_ = ball;
    known = Known::hidden;
    break;
  }
  return known == Known::hidden;
}

bool RingShadow::hides(const DirectionPatch& patch) {
  const BallRing::Sectors sectors = ring_.sectors_of(patch);
  for (int i = 0; i < sectors.count; ++i) {
    if (!hides((sectors.first + i) % BallRing::kSectors)) return false;
  }
  return true;
}

}  // namespace standpoint
