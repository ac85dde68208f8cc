#pragma once

#include <array>
#include <cstdint>

#include "planner/network/network.h"
#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

// How well one target shows the place it is meant to show: contract section 6.

/// How a place is got from what the instrument observes: the sum of `weight` times the observed
/// place over `sights` (the weights sum to 1), each sight an observation of its own.
struct Reading {
  struct Sight {
    Vec3 place;         ///< optical centre, world, mm
    double weight = 1;  ///< without unit
  };
  std::array<Sight, 2> sights;
  std::uint32_t count = 1;  ///< of `sights`
  Vec3 place;               ///< what is read: the ball's or the tip's centre, world, mm
  double error = 0;         ///< the stylus's own standard uncertainty in each axis, mm
};

/// A full target's centre, or a mirror's virtual reflector in its tip: one sight, of the place.
[[nodiscard]] Reading direct_reading(const Vec3& place, double error = 0);

/// The tip of a two-ball stylus, extrapolated from the balls at `tip + distance * direction`:
/// tip = (d2 B1 - d1 B2) / (d2 - d1), that is P = B + (a/d)(B - A) of a hidden-point rod with
/// a = d1, d = d2 - d1 (first principles). `direction` unit, world; distances mm.
/// Precondition: distances[0] < distances[1].
[[nodiscard]] Reading two_ball_reading(const Vec3& tip, const Vec3& direction,
                                       const std::array<double, 2>& distances, double error = 0);

/// As the stylus or target `reached.target` reads `place`. Precondition: a two-ball stylus comes
/// with its `shank_direction`.
[[nodiscard]] Reading reading_of(const Scene& scene, const Reached& reached, const Vec3& place);

/// The covariance of a reading in the station's own frame, turned to the world, mm^2: each sight's
/// `observation_covariance` times its weight squared, plus error^2 in each axis. The sights are
/// independent. Precondition: no sight is at the station.
[[nodiscard]] Mat3 reading_covariance(const InstrumentError& error, const Vec3& station,
                                      const Reading& reading);

/// The covariance of a touch: the reading's own plus its station's pose, carried once to the place
/// that is read. Once, because a place that is a weighted mean (weights summing to 1) of places
/// fixed in the station's frame is itself fixed in that frame. mm^2, in the datum of the pose.
[[nodiscard]] Mat3 touch_covariance(const Mat6& pose_covariance, const Vec3& station,
                                    const Reading& reading, const Mat3& own);

}  // namespace standpoint
