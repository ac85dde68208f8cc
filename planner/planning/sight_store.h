#pragma once

#include <map>
#include <optional>
#include <vector>

#include "planner/stations/reach_table.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// What is known of the candidates that a search has looked from: marks of the features and nests
/// that the table says are reached, each asked for once. What blocks is never looked into.
class SightStore {
 public:
  /// All three must outlive it.
  SightStore(const Cell& cell, const std::vector<Candidate>& candidates, const ReachTable& table)
      : cell_(cell), candidates_(candidates), table_(table) {}

  /// Looks at all that `stations_of` needs for these sets. On all cores.
  void look_for(const std::vector<std::vector<CandidateId>>& sets);
  /// Looks at the nests alone, which is soon done. On all cores.
  void look_at_nests(const std::vector<std::vector<CandidateId>>& sets);

  /// The stations of a set, in its order, without names: with the marks that can measure something
  /// in this set, everything else blocked. Precondition: `look_for` had the set. Pure.
  [[nodiscard]] std::vector<PlannedStation> stations_of(const std::vector<CandidateId>& set) const;
  /// The same with the marks of the nests alone. Precondition: `look_at_nests` or `look_for` had
  /// the set. Pure.
  [[nodiscard]] std::vector<PlannedStation> with_nests(const std::vector<CandidateId>& set) const;

  /// Whether its features were looked at from there.
  [[nodiscard]] bool has(CandidateId c) const {
    const auto known = known_.find(c);
    return known != known_.end() && known->second.is_looked_at;
  }
  /// From so many places features were looked at.
  [[nodiscard]] std::size_t size() const { return size_; }
  /// From so many places nests were.
  [[nodiscard]] std::size_t nests_from() const { return known_.size(); }

 private:
  struct Known {
    bool is_looked_at = false;                         ///< not its nests alone
    std::vector<std::optional<FeatureMark>> features;  ///< by FeatureId
    std::vector<NestMark> nests;
  };

  /// Whether a station of a set may measure the feature. `best`: of best_verdicts() of the set.
  [[nodiscard]] bool may_measure(CandidateId c, FeatureId feature, Verdict best) const;

  const Cell& cell_;
  const std::vector<Candidate>& candidates_;
  const ReachTable& table_;
  std::map<CandidateId, Known> known_;
  std::size_t size_ = 0;
};

/// The best verdict that a station of a set has of each feature.
[[nodiscard]] std::vector<Verdict> best_verdicts(const ReachTable& table,
                                                 const std::vector<CandidateId>& set);

}  // namespace standpoint
