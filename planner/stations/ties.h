#pragma once

#include <vector>

#include "planner/plan.h"
#include "planner/planning/reach_table.h"
#include "planner/scene.h"

namespace standpoint {

/// Whether the places are spread enough to fix a rotation: their greatest distance from their best
/// line is at least 1/20 of their spread (contract section 4). The best line is the least-squares
/// line; the spread is the greatest distance between two of them. Fewer than three: false.
[[nodiscard]] bool are_off_one_line(const std::vector<Vec3>& places);

/// Which candidates share enough nests to be tied (contract section 4).
class Ties {
 public:
  Ties(const Scene& scene, const ReachTable& table);

  [[nodiscard]] bool are_linked(CandidateId a, CandidateId b) const;
  /// Candidates linked with `c`, ascending, without `c`.
  [[nodiscard]] const std::vector<CandidateId>& linked_with(CandidateId c) const;
  /// The nests that count as shared from both, ascending.
  [[nodiscard]] std::vector<NestId> shared(CandidateId a, CandidateId b) const;
  /// The nests that count from `c`, ascending.
  [[nodiscard]] const std::vector<NestId>& nests_of(CandidateId c) const;

 private:
  std::vector<std::vector<NestId>> nests_;
  std::vector<std::vector<CandidateId>> linked_;
};

}  // namespace standpoint
