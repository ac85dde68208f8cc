#pragma once

#include <vector>

#include "planner/network/network.h"
#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// What a station at one place can predict at best, whatever the rest of the plan is.
///
/// In the datum of the nests a station's pose is least uncertain where all nests it observes are
/// known: its information is then the sum over these nests alone, and whatever else is unknown only
/// takes away from it (a Schur complement). The touch adds its observation, the environment adds
/// more. So every bound here is at most what `predict_uncertainty` gives for any plan that has the
/// station. docs/stations.md, "The later aims".
///
/// Immutable; safe from many threads.
class LeastUncertainty {
 public:
  /// How a nest counts from the station.
  struct SeenNest {
    NestId nest;
    Verdict verdict = Verdict::full_target;  ///< never blocked
  };
  /// `at`: the measuring centre, mm. `nests`: all that are observed from it. Where the datum is
  /// laid on features every bound is 0. O(nests).
  LeastUncertainty(const Scene& scene, const Vec3& at, const std::vector<SeenNest>& nests);

  /// The least expanded uncertainty (mm) of the worst touch of a feature that is reached from here
  /// by `verdict`, whichever touches it is and whichever target from `first` on, in order.
  /// O(targets x touches). Precondition: not blocked.
  [[nodiscard]] double of(const Feature& feature, Verdict verdict,
                          TargetId first = TargetId(0)) const {
    return of(feature, verdict, first, pose_);
  }
  /// The same where the station's pose has this covariance, or a greater one: translation mm,
  /// rotation about the measuring centre rad.
  [[nodiscard]] double of(const Feature& feature, Verdict verdict, TargetId first,
                          const Mat6& pose) const;

 private:
  [[nodiscard]] double of_target(const Feature& feature, TargetId target, const Mat6& pose) const;
  [[nodiscard]] Mat3 least_own(TargetId target, const Vec3& place) const;
  [[nodiscard]] double least_variance_of(const OffsetStylus& stylus, const Vec3& place) const;

  const Scene* scene_;
  Vec3 at_;
  bool holds_ = true;         ///< false: every bound is 0
  Mat6 pose_ = Mat6::Zero();  ///< the least pose covariance
};

}  // namespace standpoint
