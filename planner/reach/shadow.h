#pragma once

#include <array>
#include <vector>

#include "planner/cell.h"

namespace standpoint {

/// Beams from one station whose ends lie close together, taken as one.
struct BeamBundle {
  /// Points whose convex hull holds a point of every beam's axis, before its end: what crosses an
  /// axis between the station and that point stands in the beam.
  std::array<Vec3, 8> hull;
  Vec3 middle;  ///< a point inside the hull
};

/// What one triangle hides from one station: the points whose straight line to the station crosses
/// it. A convex set (it is bounded by four planes: one through the station and each side, and the
/// triangle's own), so that a hull whose corners are hidden is hidden whole (derived here).
class Shadow {
 public:
  Shadow(const std::array<Vec3, 3>& triangle, const Vec3& station);

  /// Whether all of the bundle is hidden. Inside the arithmetic's own error bound the answer is no.
  /// O(1).
  [[nodiscard]] bool holds(const BeamBundle& bundle) const;

 private:
  struct Plane {
    Vec3 inwards;  ///< unit
    double least;  ///< inwards . (point - station) is at least this for every point hidden
  };
  std::array<Plane, 4> planes_;
  Vec3 station_;
};

/// Looks for single triangles that stand in whole bundles of beams from one station. Those that did
/// are tried first, as beside one bundle the next is often behind the same triangle. Not shared
/// between threads.
class ShadowSearch {
 public:
  ShadowSearch(const Tree& tree, const Vec3& station) : tree_(&tree), station_(station) {}

  [[nodiscard]] bool knows_none() const { return known_.empty(); }
  /// Whether a triangle found before hides all of the bundle.
  [[nodiscard]] bool is_known_to_hide(const BeamBundle& bundle);
  /// Whether any triangle that crosses the axis to the bundle's middle hides all of it.
  [[nodiscard]] bool finds_one_hiding(const BeamBundle& bundle);

 private:
  const Tree* tree_;
  Vec3 station_;
  std::vector<Shadow> known_;  ///< latest success last; few
};

}  // namespace standpoint
