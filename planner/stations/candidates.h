#pragma once

#include <algorithm>
#include <vector>

#include "planner/model/tolerances.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

struct Candidates {
  std::vector<Candidate> kept;  ///< fixed places first, then zones in order; x, then y, then height
  CandidateTally tally;
  /// `keep` places that would otherwise be dropped for a body: it cuts a mesh there, or they lie
  /// inside one.
  std::vector<CandidateId> kept_but_colliding;
};

/// An order of candidates that the order of the scene's lists does not enter into: by x, then y,
/// then z.
[[nodiscard]] inline bool comes_before(const Candidate& a, const Candidate& b) {
  return std::lexicographical_compare(a.at.begin(), a.at.end(), b.at.begin(), b.at.end());
}

/// The places of a zone: the points of a grid of `spacing`, anchored at the least corner of the
/// polygon's bounding box, that lie in or on the polygon, each at floor + every height. x
/// ascending, then y, then the heights in their order. mm, scene frame.
///
/// Grid line i stands at low + i * spacing, or at a corner's coordinate within tolerance::kGridSnap
/// of it; in or on is decided by exact predicates. Preconditions: spacing > 0, a simple polygon of
/// either orientation. O(grid points x corners).
[[nodiscard]] std::vector<Vec3> zone_grid(const Zone& zone);

/// Whether the instrument's body, with its measuring centre at `at`, neither cuts nor touches a
/// mesh (contract section 2). Of a body without size that is the measuring centre itself.
[[nodiscard]] bool has_room(const Cell& cell, const Vec3& at);

/// Generates the candidates of a scene (contract section 2): its fixed places, then the places of
/// each zone. One is dropped where the instrument's body cuts or touches a mesh, where its
/// measuring centre lies inside a closed body (closed_bodies.h), or where an earlier one, not
/// dropped, stands at exactly the same coordinates; of several reasons the first is counted. A
/// `keep` place is never dropped: its collision is told in `kept_but_colliding`, and a place
/// without `keep` gives way to it even where that comes first. O(candidates) queries of the tree,
/// and O(triangles) of the bodies whose boxes hold a candidate.
[[nodiscard]] Candidates generate_candidates(const Cell& cell);

}  // namespace standpoint
