#pragma once

#include <vector>

#include "planner/cover/bits.h"
#include "planner/model/touch.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// What candidates that do not take a feature alone reach of it (contract section 9, "Split").
struct SharedParts {
  struct Way {
    TargetId target;
    TouchSet set;                         ///< its touches as this target takes them
    std::vector<CandidateId> candidates;  ///< that reach some of them, ascending
    BitMatrix reached;                    ///< these candidates x touches
  };
  /// By target, in order; only those by which all candidates together reach enough. By stylus only
  /// where that was asked for (`add_stylus_parts`).
  std::vector<Way> ways;
};

/// Whether these touches are enough for the feature: `is_enough` of planner/reach/element.h on
/// bits.
[[nodiscard]] bool are_enough(const Feature& feature, const TouchSet& set, ConstBitSpan touches);

/// The verdict of candidates (ascending) that none of them takes the feature alone: by full target
/// where one of them reaches enough from all of them together, else by stylus, else blocked.
/// O(ways x chosen).
[[nodiscard]] Verdict verdict_together(const Scene& scene, FeatureId feature,
                                       const SharedParts& parts,
                                       const std::vector<CandidateId>& chosen);

/// Collects what is found for some candidates after the other.
class PartsCollector {
 public:
  /// Adds what one target reaches from candidates beginning at `first`, each with its touches or
  /// none. Precondition: targets in order; for each target the candidates ascend.
  void add(TargetId target, const TouchSet& set, std::size_t first,
           const std::vector<std::vector<bool>>& reached);
  /// Ways by which all together do not reach enough are left out.
  [[nodiscard]] SharedParts collected(const Feature& feature) const;

 private:
  struct Found {
    TargetId target;
    TouchSet set;
    std::vector<CandidateId> candidates;
    std::vector<std::vector<BitWord>> reached;
  };
  std::vector<Found> found_;
};

}  // namespace standpoint
