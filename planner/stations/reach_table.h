#pragma once

#include <vector>

#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// The verdict of every feature and nest from every candidate: what planning needs, no causes.
class ReachTable {
 public:
  ReachTable(std::size_t candidates, std::size_t features, std::size_t nests)
      : features_(features),
        nests_(nests),
        verdicts_(candidates * (features + nests), Verdict::blocked) {}

  [[nodiscard]] Verdict feature(CandidateId c, FeatureId f) const {
    return verdicts_[c.index * (features_ + nests_) + f.index];
  }
  [[nodiscard]] Verdict nest(CandidateId c, NestId n) const {
    return verdicts_[c.index * (features_ + nests_) + features_ + n.index];
  }
  void set_feature(CandidateId c, FeatureId f, Verdict v) {
    verdicts_[c.index * (features_ + nests_) + f.index] = v;
  }
  void set_nest(CandidateId c, NestId n, Verdict v) {
    verdicts_[c.index * (features_ + nests_) + features_ + n.index] = v;
  }
  [[nodiscard]] std::size_t candidate_count() const {
    return features_ + nests_ == 0 ? 0 : verdicts_.size() / (features_ + nests_);
  }
  [[nodiscard]] std::size_t feature_count() const { return features_; }
  [[nodiscard]] std::size_t nest_count() const { return nests_; }

 private:
  std::size_t features_, nests_;
  std::vector<Verdict> verdicts_;
};

/// Decides every feature and nest from every candidate, over all cores. The verdicts equal those of
/// `look_from`, whatever the number of threads. Returns early when `watch` is interrupted (the
/// table is then incomplete).
[[nodiscard]] ReachTable reach_all(const Cell& cell, const std::vector<Candidate>& candidates,
                                   const Watch& watch);

}  // namespace standpoint
