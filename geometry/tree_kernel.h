#pragma once

#include <cstdint>

#include "geometry/round_cone.h"
#include "geometry/tree_layout.h"

namespace standpoint::tree {

/// A round cone as the float culling sees it. Frame: the scene's, from Layout::origin.
struct Probe {
  float start[3];
  float inverse[3];   ///< 1 / direction, finite
  float frame[3][3];  ///< rows: two unit vectors across the axis, and the axis
  float length = 0;
  float greatest_radius = 0;
  float slack = 0;  ///< error bound of all float steps together, mm: added to every radius
};

/// Prepares the culling of `cone` in `layout`. The slack is derived in docs/beam.md.
[[nodiscard]] Probe make_probe(const Layout& layout, const RoundCone& cone);

/// Decides about triangles that the culling could not leave out.
class Visitor {
 public:
  virtual ~Visitor() = default;
  /// Looks at one triangle. Returns the margin below which triangles still matter from now on
  /// (-infinity: stop, nothing matters any more).
  virtual double visit(std::uint32_t triangle) = 0;
};

/// Takes `visitor` to every triangle whose margin to the probe may be below `below` (and to some
/// more), near the axis' start first; the bound falls as the visitor says. SIMD chosen at run time.
void walk(const Layout& layout, const Probe& probe, double below, Visitor& visitor);

}  // namespace standpoint::tree
