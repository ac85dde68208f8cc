#pragma once

#include <memory>
#include <variant>

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"
#include "standpoint/cell.h"
#include "standpoint/why.h"

namespace standpoint {

/// A subject asked from many places, in one scene. Not shared between threads.
class SubjectReach {
 public:
  SubjectReach(const Cell& cell, Subject subject);

  [[nodiscard]] Verdict verdict(const Stance& station);
  [[nodiscard]] SubjectMark mark(const Stance& station);

 private:
  std::variant<FeatureReach, NestReach> reach_;
};

/// Verdicts of every feature and nest from one place: features first. Over all cores.
[[nodiscard]] std::vector<Verdict> verdicts_from(const Cell& cell, const Stance& station);

/// Precondition: both from `verdicts_from` for scenes with the same features and nests.
[[nodiscard]] Effect compare(const Scene& scene, const std::vector<Verdict>& before,
                             const std::vector<Verdict>& after);

}  // namespace standpoint
