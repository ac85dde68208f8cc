#pragma once

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include "planner/stations/shared_parts.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// The verdict of every feature and nest from every candidate, and what candidates reach of
/// features that they do not take alone: what planning needs, no causes.
class ReachTable {
 public:
  ReachTable(std::size_t candidates, std::size_t features, std::size_t nests)
      : features_(features),
        nests_(nests),
        verdicts_(candidates * (features + nests), Verdict::blocked),
        first_targets_(candidates * features, 0),
        parts_(features) {}

  [[nodiscard]] Verdict feature(CandidateId c, FeatureId f) const {
    return verdicts_[c.index * (features_ + nests_) + f.index];
  }
  [[nodiscard]] Verdict nest(CandidateId c, NestId n) const {
    return verdicts_[c.index * (features_ + nests_) + features_ + n.index];
  }
  /// No target before this one, in order, takes the feature from there. That the one itself does is
  /// not said.
  [[nodiscard]] TargetId first_target(CandidateId c, FeatureId f) const {
    return TargetId(first_targets_[c.index * features_ + f.index]);
  }
  void set_feature(CandidateId c, FeatureId f, Verdict v, TargetId first = TargetId(0)) {
    verdicts_[c.index * (features_ + nests_) + f.index] = v;
    first_targets_[c.index * features_ + f.index] =
        static_cast<std::uint8_t>(std::min<std::uint32_t>(first.index, UINT8_MAX));
  }
  void set_nest(CandidateId c, NestId n, Verdict v) {
    verdicts_[c.index * (features_ + nests_) + features_ + n.index] = v;
  }
  /// Nothing of a feature that may not be split.
  [[nodiscard]] const SharedParts& parts(FeatureId f) const { return parts_[f.index]; }
  void set_parts(FeatureId f, SharedParts parts) { parts_[f.index] = std::move(parts); }
  [[nodiscard]] std::size_t candidate_count() const {
    return features_ + nests_ == 0 ? 0 : verdicts_.size() / (features_ + nests_);
  }
  [[nodiscard]] std::size_t feature_count() const { return features_; }
  [[nodiscard]] std::size_t nest_count() const { return nests_; }

 private:
  std::size_t features_, nests_;
  std::vector<Verdict> verdicts_;
  std::vector<std::uint8_t> first_targets_;  ///< what a byte cannot hold is told as its most
  std::vector<SharedParts> parts_;
};

/// Decides every feature and nest from every candidate, over all cores. The verdicts and parts
/// equal those of `look_from`, whatever the number of threads. Of features that may be split the
/// parts are those by full target. The table keeps a bit for each target, touch and candidate that
/// reaches some of its touches and does not take it alone: candidates x touches x targets / 8 bytes
/// at most. Returns early when `watch` is interrupted (the table is then incomplete).
[[nodiscard]] ReachTable reach_all(const Cell& cell, const std::vector<Candidate>& candidates,
                                   const Watch& watch);

/// Adds to the parts of these features (ascending) what candidates reach of them by stylus that do
/// not take them. As `reach_all` otherwise. Precondition: they may be split, and have no such parts
/// yet.
void add_stylus_parts(const Cell& cell, const std::vector<Candidate>& candidates,
                      const std::vector<FeatureId>& features, const Watch& watch,
                      ReachTable& table);

}  // namespace standpoint
