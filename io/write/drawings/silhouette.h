#pragma once

#include <vector>

#include "geometry/vec.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// A flat view of the scene: which world directions run right and up on the sheet. Unit, square to
/// one another.
struct View {
  Vec3 right = Vec3::UnitX();
  Vec3 up = Vec3::UnitY();

  [[nodiscard]] Vec2 flat(const Vec3& p) const { return {p.dot(right), p.dot(up)}; }
};

/// The axis-parallel box [low, high].
struct Box2 {
  Vec2 low = Vec2::Zero();
  Vec2 high = Vec2::Zero();
};

/// Closed outlines; a point is inside where an odd number of them goes round it.
using Outlines = std::vector<std::vector<Vec2>>;

/// The outline of what a mesh covers when seen in `view`, inside `window` (view coordinates, mm).
///
/// For drawing, not for deciding: the triangles are drawn on a grid of quarter `cell`s, and the
/// outline is the contour of the covered share of each cell, thinned out by a third of a cell. It
/// is within about one cell of the truth, and never thinner than half a cell, so that sheets seen
/// edge on stay visible. However large the mesh, there are at most some 4 corners a cell of
/// outline. Outlines that run out of the window are closed outside it. Same input, same answer.
/// O(triangles + covered quarter cells). Precondition: cell > 0, finite vertices.
[[nodiscard]] Outlines silhouette(const Mesh& mesh, const View& view, const Box2& window,
                                  double cell);

}  // namespace standpoint
