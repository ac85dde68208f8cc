#pragma once

#include <optional>

#include "geometry/directions.h"
#include "planner/reach/ring_shadow.h"
#include "planner/reach/shadow.h"
#include "standpoint/sight.h"

namespace standpoint {

/// A two-ball stylus with its tip at one place as one station sees it: where its balls and beams
/// are for each direction of holding it (the unit vector from tip to balls), and which rules of
/// contract section 3 hold there. Asks no body. Immutable.
class TwoBallView {
 public:
  /// `instrument` and `stylus` must outlive this.
  TwoBallView(const Instrument& instrument, const TwoBallStylus& stylus, const Vec3& tip_centre,
              const Stance& station);

  static constexpr std::array<std::size_t, 2> kBalls{0, 1};  ///< the nearer to the tip first

  /// The beam to where it enters the ball. Precondition: the station is outside the ball, as it is
  /// where !rule_that_fails(direction).
  [[nodiscard]] RoundCone beam(std::size_t ball, const Vec3& direction) const;
  [[nodiscard]] bool is_outside(std::size_t ball, const Vec3& direction) const;
  /// The first of range, elevation and acceptance that fails, for the nearer ball, then the other.
  [[nodiscard]] std::optional<Rule> rule_that_fails(const Vec3& direction) const;

  /// False only where some rule fails in every direction of the patch.
  [[nodiscard]] bool may_pass(const DirectionPatch& patch) const;
  /// By how much the margin of the beam to one ball, in any direction of the patch, may be above
  /// that in the patch's centre, mm. Precondition: the station is outside the ball in both.
  [[nodiscard]] double most_gain(std::size_t ball, const DirectionPatch& patch) const;
  /// The beams to one ball for all directions of the patch, or for all there are; nothing where the
  /// station is so near that they have little in common.
  [[nodiscard]] std::optional<BeamBundle> bundle(std::size_t ball,
                                                 const DirectionPatch& patch) const;
  [[nodiscard]] std::optional<BeamBundle> bundle(std::size_t ball) const;
  /// The ring in which acceptance leaves the balls; nothing where it is not thin.
  [[nodiscard]] std::optional<BallRing> ring() const {
    return BallRing::about(*stylus_, tip_centre_, station_);
  }

 private:
  [[nodiscard]] Vec3 centre(std::size_t ball, const Vec3& direction) const {
    return tip_centre_ + stylus_->ball_distances[ball] * direction;
  }

  /// No centre of the ball in a direction of the patch is farther from that in the patch's centre.
  [[nodiscard]] double sway(std::size_t ball, const DirectionPatch& patch) const;
  [[nodiscard]] bool is_elevation_allowed(const Vec3& at, double distance) const;
  [[nodiscard]] bool is_accepted(const Vec3& direction, const Vec3& toward, double distance) const;

  const Instrument* instrument_;
  const TwoBallStylus* stylus_;
  Vec3 tip_centre_;
  Vec3 station_;
  Vec3 up_;
  Interval elevation_sine_;
  double acceptance_sine_, acceptance_cosine_;  ///< sine 2 where any angle is accepted
};

}  // namespace standpoint
