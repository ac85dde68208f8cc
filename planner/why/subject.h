#pragma once

#include <memory>
#include <variant>

#include "planner/cell.h"
#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"

namespace standpoint {

/// What somebody asks about: a feature or a nest.
using Subject = std::variant<FeatureId, NestId>;

/// How a subject stands as seen from one place.
struct SubjectMark {
  Verdict verdict = Verdict::blocked;
  std::optional<double> margin;    ///< mm; of a blocked subject that of the nearest miss
  std::vector<TouchMark> touches;  ///< a nest has one
  /// For each touch how the target that takes the subject reaches it.
  std::vector<std::optional<Reached>> by_target;
};

/// A subject asked from many places, in one scene. Not shared between threads.
class SubjectReach {
 public:
  SubjectReach(const Cell& cell, Subject subject);

  [[nodiscard]] Verdict verdict(const Vec3& station);
  [[nodiscard]] SubjectMark mark(const Vec3& station);

 private:
  std::variant<FeatureReach, NestReach> reach_;
};

/// Verdicts of every feature and nest from one place: features first. Over all cores.
[[nodiscard]] std::vector<Verdict> verdicts_from(const Cell& cell, const Vec3& station);

/// What changing from one list of verdicts to another is worth over the whole scene.
struct Effect {
  std::vector<Subject> gained;  ///< reached now, or by full target instead of stylus
  std::vector<Subject> lost;    ///< no longer reached, or by stylus instead of full target
};

/// Precondition: both from `verdicts_from` for scenes with the same features and nests.
[[nodiscard]] Effect compare(const Scene& scene, const std::vector<Verdict>& before,
                             const std::vector<Verdict>& after);

}  // namespace standpoint
