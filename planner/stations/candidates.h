#pragma once

#include <vector>

#include "planner/cell.h"
#include "planner/plan.h"

namespace standpoint {

struct Candidates {
  std::vector<Candidate> kept;  ///< fixed places first, then zones in order; x, then y, then height
  CandidateTally tally;
  std::vector<CandidateId> kept_but_colliding;  ///< `keep` places whose body cuts a mesh
};

/// Raises the candidates of a scene: its fixed places, and for each zone the points of a grid of
/// `spacing`, anchored at the least corner of the polygon's bounding box, that lie in or on the
/// polygon (exact predicates), each at floor + every height. One is dropped where the instrument's
/// body cuts a mesh (a `keep` place stays, and is told), or where an earlier one stands in the same
/// place.
[[nodiscard]] Candidates raise_candidates(const Cell& cell);

}  // namespace standpoint
