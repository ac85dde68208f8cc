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
        verdicts_(candidates * (features + nests), byte_of(Verdict::blocked)),
        first_targets_(candidates * features, 0),
        parts_(features) {}

  /// Of what is open the best that it can be: offset_stylus.
  [[nodiscard]] Verdict feature(CandidateId c, FeatureId f) const {
    const std::uint8_t v = verdicts_[c.index * (features_ + nests_) + f.index];
    return v == kOpen ? Verdict::offset_stylus : Verdict{v};
  }
  /// Whether it is not known yet if a rod takes the feature from there; nothing else does.
  [[nodiscard]] bool is_open(CandidateId c, FeatureId f) const {
    return verdicts_[c.index * (features_ + nests_) + f.index] == kOpen;
  }
  [[nodiscard]] Verdict nest(CandidateId c, NestId n) const {
    return Verdict{verdicts_[c.index * (features_ + nests_) + features_ + n.index]};
  }
  /// No target before this one, in order, takes the feature from there. That the one itself does is
  /// not said.
  [[nodiscard]] TargetId first_target(CandidateId c, FeatureId f) const {
    return TargetId(first_targets_[c.index * features_ + f.index]);
  }
  void set_feature(CandidateId c, FeatureId f, Verdict v, TargetId first = TargetId(0)) {
    verdicts_[c.index * (features_ + nests_) + f.index] = byte_of(v);
    first_targets_[c.index * features_ + f.index] =
        static_cast<std::uint8_t>(std::min<std::uint32_t>(first.index, UINT8_MAX));
  }
  /// `first`: the first rod that may take it.
  void set_open(CandidateId c, FeatureId f, TargetId first) {
    set_feature(c, f, Verdict::offset_stylus, first);
    verdicts_[c.index * (features_ + nests_) + f.index] = kOpen;
  }
  void set_nest(CandidateId c, NestId n, Verdict v) {
    verdicts_[c.index * (features_ + nests_) + features_ + n.index] = byte_of(v);
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
  static constexpr std::uint8_t kOpen = 0xff;
  [[nodiscard]] static constexpr std::uint8_t byte_of(Verdict v) {
    return static_cast<std::uint8_t>(v);
  }

  std::size_t features_, nests_;
  std::vector<std::uint8_t> verdicts_;       ///< Verdict, or kOpen
  std::vector<std::uint8_t> first_targets_;  ///< what a byte cannot hold is told as its most
  std::vector<SharedParts> parts_;
};

/// When two-ball styli are asked for, whose search costs far more than all else.
enum class Rods : std::uint8_t {
  at_once,
  /// Of features that may not be split, and that something else may take, only once somebody relies
  /// on it: where nothing else takes them they are open (`open_cells.h`).
  later,
};

/// Decides every feature and nest from every candidate, over all cores. The verdicts and parts
/// equal those of `look_from`, whatever the number of threads. Of features that may be split the
/// parts are those by full target. The table keeps a bit for each target, touch and candidate that
/// reaches some of its touches and does not take it alone: candidates x touches x targets / 8 bytes
/// at most. Returns early when `watch` is interrupted (the table is then incomplete).
[[nodiscard]] ReachTable reach_all(const Cell& cell, const std::vector<Candidate>& candidates,
                                   const Watch& watch, Rods rods = Rods::at_once);

/// Adds to the parts of these features (ascending) what candidates reach of them by stylus that do
/// not take them. As `reach_all` otherwise. Precondition: they may be split, and have no such parts
/// yet.
void add_stylus_parts(const Cell& cell, const std::vector<Candidate>& candidates,
                      const std::vector<FeatureId>& features, const Watch& watch,
                      ReachTable& table);

}  // namespace standpoint
