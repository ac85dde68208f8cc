#pragma once

#include <optional>
#include <vector>

#include "planner/network/network.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// What the part's own frame is laid on: contract section 13.

/// The directions along which a touch of the feature says where the part is: of a hole taken as a
/// whole the two in its rim's plane, of a point that can be told in all directions all three, else
/// the normal. Orthonormal, world frame. Pure.
[[nodiscard]] std::vector<Vec3> held_directions(const Feature& feature, Way way,
                                                const Vec3& normal);

/// The touches of these features as the drawing has them, each feature by the first target that can
/// take it (`touch_sets`): what they could hold if every touch were reached, for `free_motions`.
/// Stations are 0 and covariances 1. O(features x targets x touches).
[[nodiscard]] std::vector<AlignmentTouch> nominal_alignment(const Scene& scene,
                                                            const std::vector<FeatureId>& features);

/// A feature that holds a motion which others leave free.
struct Hold {
  FeatureId feature;
  /// How far its touches move along what they hold, at most, for a motion that moves the farthest
  /// of all features' touches by 1: the more the better it holds.
  double share = 0;
};

/// The features that resist `motion` best, best first, at most `count`; none that does not resist
/// it, and none of `besides`. O(features x touches).
[[nodiscard]] std::vector<Hold> features_that_hold(const Scene& scene, const Motion& motion,
                                                   const std::vector<FeatureId>& besides,
                                                   std::size_t count);

/// A touch of a plan's alignment, and what it should leave.
struct ExpectedResidual {
  FeatureId feature;
  std::uint32_t touch = 0;  ///< index into the touches of its mark
  StationId station;
  /// How far it may be off the nominal part once all are fitted, in the direction in which it is
  /// held where that is most, at coverage factor 2 (95 %), mm. Near 0 where nothing else holds what
  /// it holds: then no error of it shows.
  double most = 0;
};

/// Every touch of the plan's alignment, in the order in which they are taken: by station, then as
/// the alignment lists its features. The residual of an observation has the covariance of the
/// observation less that of its adjusted value (least squares; derived in docs/uncertainty.md).
/// Empty where the plan has no figures. O(network).
[[nodiscard]] std::vector<ExpectedResidual> expected_residuals(const Scene& scene,
                                                               const Plan& plan);

/// The motion of the part's frame that is known least.
struct LeastHeld {
  Motion motion;
  FeatureId feature;    ///< whose touch it moves farthest, as far as the frame is uncertain
  double expanded = 0;  ///< there, 2 sqrt(greatest eigenvalue), mm: of the frame alone
};

/// How well a plan's alignment holds the frame: the pose of the station that begins with it,
/// carried to every touch of the drawing (by the first target that can take it); there where it is
/// most uncertain, the motion that goes with it. Nothing where the plan has no figures. O(features
/// x touches).
[[nodiscard]] std::optional<LeastHeld> least_held(const Scene& scene, const Plan& plan);

/// The stations that take the plan's alignment, ascending. O(features).
[[nodiscard]] std::vector<StationId> aligning_stations(const Plan& plan);

}  // namespace standpoint
