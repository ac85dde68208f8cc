#pragma once

#include <array>
#include <span>

#include "planner/cell.h"

namespace standpoint {

/// Beams from one station whose ends lie close together, taken as one.
struct BeamBundle {
  Vec3 station;
  /// Points whose convex hull, seen from the station, holds a point of every beam's axis: the one
  /// up to which a blocker counts.
  std::array<Vec3, 8> hull;
  Vec3 middle;  ///< a point inside the hull
};

/// Whether one triangle stands in every beam of a bundle: it comes nearer than `radius`, less
/// `tolerance::kWholePatchSlack`, to the axis from the station to each point of the hull.
///
/// Decided at the hull's corners alone. The points within `radius` of a triangle are a convex set,
/// and the points that a convex set hides from the station are convex too (if rays to a and b meet
/// the set at a' and b', the ray to any point between a and b crosses the segment a'b' no farther
/// out), so that a hull whose corners are hidden is hidden whole (derived here). O(1).
[[nodiscard]] bool stands_in_all(const std::array<Vec3, 3>& triangle, const BeamBundle& bundle,
                                 double radius);

/// Looks for single triangles that stand in whole bundles, and remembers those that did: beside one
/// bundle the next is often behind the same triangle. What is remembered changes how fast an answer
/// comes, never whether beams are clear. Not shared between threads.
class Shadows {
 public:
  /// `radius`: how near to its axis every beam may not be come to: the least beam radius plus the
  /// margin asked. mm.
  Shadows(const Tree& tree, double radius) : tree_(&tree), radius_(radius) {}

  /// Whether a remembered triangle stands in all of the bundle.
  [[nodiscard]] bool is_known_to_hide(const BeamBundle& bundle);
  /// Whether any triangle that stands in the beam to the bundle's middle stands in all of it.
  [[nodiscard]] bool finds_one_hiding(const BeamBundle& bundle);

 private:
  using Triangle = std::array<Vec3, 3>;
  void remember(const Triangle& triangle);

  const Tree* tree_;
  double radius_;
  std::array<Triangle, 8> known_{};  ///< latest success first
  std::size_t known_count_ = 0;
};

}  // namespace standpoint
