#pragma once

#include <memory>
#include <optional>

#include "geometry/vec.h"
#include "standpoint/cell.h"

namespace standpoint {

/// Tells which places lie inside a closed body (contract section 2; the rule is in
/// docs/stations.md).
///
/// A body is judged by its shells (`closed_shells`), so that an open patch beside a closed shell
/// changes nothing. A place is inside where the shells of one body go round it more often outward
/// than inward. A shell whose triangles face inward counts only where it is a hollow in another
/// shell of its body; otherwise it is a hall seen from inside, and its air is free to stand in.
///
/// What a body needs is worked out when a place first lies within its box, and kept: one thread.
class ClosedBodies {
 public:
  /// O(vertices): the boxes. Keeps a copy of the cell.
  explicit ClosedBodies(const Cell& cell);
  ~ClosedBodies();
  ClosedBodies(const ClosedBodies&) = delete;
  ClosedBodies& operator=(const ClosedBodies&) = delete;

  /// The first body, in the scene's order, whose inside holds `at` (world, mm). Decided by exact
  /// predicates on one upright ray; a ray through an edge or corner is no special case.
  /// Precondition: no mesh runs through `at`; on a surface the answer may be either. O(the tree's
  /// height + triangles on the ray); the first place in a body's box: O(its triangles).
  [[nodiscard]] std::optional<BodyId> first_around(const Vec3& at);

 private:
  struct Body;
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace standpoint
