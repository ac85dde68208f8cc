#pragma once

#include <vector>

#include "planner/reach/target_at.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One nest, asked from many stations (contract section 3, "A nest with an offset stylus").
/// Not shared between threads; answers do not depend on what was asked before.
class NestReach {
 public:
  /// `nest` must outlive this.
  NestReach(const Cell& cell, const Nest& nest);
  /// With only the targets of `at_hand` (ascending).
  NestReach(const Cell& cell, const Nest& nest, const std::vector<TargetId>& at_hand);

  [[nodiscard]] Verdict verdict(const Stance& station) { return verdicts({&station, 1}).front(); }
  /// For each station; many at once are cheaper than one after the other.
  [[nodiscard]] std::vector<Verdict> verdicts(std::span<const Stance> stations);
  /// Verdict, target and margin as mark() has them, without what blocks.
  [[nodiscard]] MarkSummary summary(const Stance& station);
  /// A stylus is tried only where no full target reaches.
  [[nodiscard]] TouchMark mark(const Stance& station, Causes causes = Causes::told);

 private:
  const Cell* cell_;
  const Nest* nest_;
  struct Seated {
    TargetId target;
    TargetAt at;
  };
  std::vector<Seated> targets_;
};

}  // namespace standpoint
