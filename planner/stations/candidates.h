#pragma once

#include <algorithm>
#include <vector>

#include "planner/model/tolerances.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

struct Candidates {
  std::vector<Candidate> kept;  ///< fixed places first, then zones in order; x, then y, then
                                ///< height, then standing axis
  CandidateTally tally;
  /// `keep` places that would otherwise be dropped for a body: it cuts a mesh there, or they lie
  /// inside one.
  std::vector<CandidateId> kept_but_colliding;
  /// `keep` places that would otherwise be dropped for a keep-out.
  std::vector<CandidateId> kept_but_kept_out;
};

/// An order of candidates that the order of the scene's lists does not enter into: by x, then y,
/// then z, then the standing axis in the same way.
[[nodiscard]] inline bool comes_before(const Candidate& a, const Candidate& b) {
  const auto is_less = [](const Vec3& one, const Vec3& other) {
    return std::lexicographical_compare(one.begin(), one.end(), other.begin(), other.end());
  };
  return a.at != b.at ? is_less(a.at, b.at) : is_less(a.up, b.up);
}

/// The places of a zone: the points of a grid of `spacing`, anchored at the least corner of the
/// polygon's bounding box, that lie in or on the polygon but neither in nor on one of its holes,
/// each at floor + every height. x ascending, then y, then the heights in their order. mm, scene
/// frame.
///
/// Grid line i stands at low + i * spacing, or at a corner's coordinate within tolerance::kGridSnap
/// of it; in or on is decided by exact predicates. Preconditions: spacing > 0, a simple polygon of
/// either orientation. O(grid points x corners).
[[nodiscard]] std::vector<Vec3> zone_grid(const Zone& zone);

/// Whether the instrument's body, where the instrument stands so, neither cuts nor touches a mesh
/// (contract section 2). Of a body without size that is the measuring centre itself.
[[nodiscard]] bool has_room(const Cell& cell, const Stance& stance);

/// Generates the candidates of a scene (contract sections 2 and 9): its fixed places, then the
/// places of each zone, each once for each of its standing axes. One is dropped where its measuring
/// centre is over a keep-out (in or on its polygon, seen from above), where the instrument's body
/// cuts or touches a mesh, where its measuring centre lies inside a closed body (closed_bodies.h),
/// or where an earlier one, not dropped, stands at exactly the same coordinates with exactly the
/// same axis; of several reasons the first is counted. A `keep` place is never dropped: its
/// collision is told in `kept_but_colliding`, its keep-out in `kept_but_kept_out`, and a place
/// without `keep` gives way to it even where that comes first. O(candidates) queries of the tree,
/// and O(triangles) of the bodies whose boxes hold a candidate.
[[nodiscard]] Candidates generate_candidates(const Cell& cell);

}  // namespace standpoint
