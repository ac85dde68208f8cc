#pragma once

#include <vector>

#include "planner/cover/link_groups.h"
#include "planner/stations/reach_table.h"
#include "planner/stations/tie_rule.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Which candidates share enough nests to be tied (contract section 4). Immutable.
///
/// Candidates from which the same nests count are one group and are linked alike, so links cost one
/// bit for each pair of groups. Where no ties are asked every two candidates are linked.
class Ties {
 public:
  /// Decides every pair of groups, over all cores; the links are the same at any number of threads.
  /// O(groups^2 x nests / 64), O(nests^3) for the wide triangles, and `some_off_line` for each pair
  /// that none of them decides.
  Ties(const Scene& scene, const ReachTable& table);

  /// Whether ties are asked for at all (contract section 4).
  [[nodiscard]] bool are_asked() const { return are_asked_; }
  /// No candidate is linked with itself.
  [[nodiscard]] bool are_linked(CandidateId a, CandidateId b) const {
    return groups_.are_linked(a.index, b.index);
  }
  /// Candidates linked with `c`, ascending, without `c`. O(candidates).
  [[nodiscard]] std::vector<CandidateId> linked_with(CandidateId c) const;
  /// The nests that count from both, ascending.
  [[nodiscard]] std::vector<NestId> shared(CandidateId a, CandidateId b) const;
  /// The nests that count from `c`, ascending.
  [[nodiscard]] const std::vector<NestId>& nests_of(CandidateId c) const {
    return nests_[groups_.group_of[c.index]];
  }
  /// The links by groups, as `CoverProblem::links` takes them (leave that empty where no ties are
  /// asked). Groups are numbered by their first candidates.
  [[nodiscard]] const LinkGroups& groups() const { return groups_; }

 private:
  bool are_asked_ = false;
  std::vector<std::vector<NestId>> nests_;  ///< of each group
  LinkGroups groups_;
};

}  // namespace standpoint
