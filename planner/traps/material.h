#pragma once

#include <optional>
#include <vector>

#include "standpoint/cell.h"

namespace standpoint {

/// Tells the material of closed bodies from air, for what is told to people; nothing is decided by
/// it. A body is closed where its mesh has no open edge, and has material where its triangles face
/// outward on the whole: a hall seen from inside has none.
class Material {
 public:
  /// O(triangles). Keeps a copy of the cell.
  explicit Material(const Cell& cell);

  /// The first body, in the scene's order, whose material holds `at` (mm). Decided by how often a
  /// ray leaves and enters the body's surface; a ray that passes within 1e-9 of a triangle's size
  /// of an edge is given up for one of another direction. O(triangles near the ray).
  [[nodiscard]] std::optional<BodyId> first_around(const Vec3& at) const;

  /// Whether the body is closed and its triangles face inward on the whole.
  [[nodiscard]] bool is_inward(BodyId body) const { return volume_[body.index] < 0; }

 private:
  /// The turns of each body's surface about `at` along one ray; nothing where the ray is unclear.
  [[nodiscard]] std::optional<std::vector<int>> turns(const Vec3& at, const Vec3& far) const;

  Cell cell_;
  std::vector<double> volume_;  ///< for each body, mm^3; 0 where it is not closed
  Vec3 low_, high_;             ///< box of all bodies
};

}  // namespace standpoint
