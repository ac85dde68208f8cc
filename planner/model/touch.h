#pragma once

#include <vector>

#include "standpoint/sight.h"

namespace standpoint {

/// One contact of a target with a feature.
struct Touch {
  Vec3 at;              ///< contact point p (on the rim: the hole's centre), world, mm
  Vec3 normal;          ///< n, unit, out of the material
  Vec3 optical_centre;  ///< C, of the target (for a stylus: its tip's centre)
};

/// The touches of one feature as one target would take them.
struct TouchSet {
  Way way = Way::surface;
  std::vector<Touch> touches;
};

/// All ways in which a ball of `ball_radius` (a full target's, or a stylus tip's) may take
/// `feature`, in order of preference; empty where it cannot (a rim outside `rim_contact_rad`, a
/// ball as large as the bore). A wall is offered at several depths, shallower last.
/// Contract section 3; counts and patterns in docs/touches.md. Pure, O(touches).
[[nodiscard]] std::vector<TouchSet> touch_sets(const Feature& feature, double ball_radius,
                                               const Rules& rules);

/// The same of a target of the scene. A hole adapter takes a hole whose diameter is among those
/// that it fits, in one way, by one touch: C is its `height` over the rim's plane on the hole's
/// axis; it takes nothing else (contract section 9).
[[nodiscard]] std::vector<TouchSet> touch_sets(const Scene& scene, const Feature& feature,
                                               TargetId target);

}  // namespace standpoint
