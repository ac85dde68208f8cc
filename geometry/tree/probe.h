#pragma once

#include "geometry/round_cone.h"
#include "geometry/tree/layout.h"

namespace standpoint::tree {

/// A round cone as the float culling sees it. Frame: the scene's, from Layout::origin.
struct Probe {
  float start[3];
  float inverse[3];   ///< 1 / direction, finite
  float frame[3][3];  ///< rows: two unit vectors across the axis, and the axis
  float offset[3];    ///< frame * corner + offset is the corner as seen from the start
  float length = 0;   ///< of the axis
  float start_radius = 0;
  float end_radius = 0;
  float slope = 0;            ///< radius at t is start_radius + slope t
  float cosine = 1;           ///< sqrt(1 - slope^2), rounded down
  float least_radius = 0;     ///< of both ends
  float greatest_radius = 0;  ///< of both ends
  /// Error bound of all float steps together, mm (docs/beam.md, section 4): the computed distance
  /// of a triangle from the axis, or of a box, is off by less.
  float slack = 0;
  bool is_negative[3];  ///< whether the direction runs down this axis
};

/// Prepares the culling of `cone` in `layout`. `from_end`: the probe runs from the cone's end to
/// its start; it holds the same points.
[[nodiscard]] Probe make_probe(const Layout& layout, const RoundCone& cone, bool from_end);

}  // namespace standpoint::tree
