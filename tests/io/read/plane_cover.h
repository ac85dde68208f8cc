#pragma once

#include <vector>

#include "planner/part/face.h"
#include "planner/part/found_feature.h"

namespace standpoint::test {

/// What the planes of a part cover, looked at point by point: a point is covered where it lies
/// within the rims of a plane that goes by within `within`, and faces the same way to a hundredth.
class PlaneCover {
 public:
  /// Both in mm; `rim`: how far rims may be off, so that points nearer to their own do not count.
  PlaneCover(const PartFaces& part, double within, double rim);

  /// What is covered of a plane that was found on `of`: the share of points spread evenly over its
  /// faces, and the share that lies on doubtful ones. All of a plane that has no point far enough
  /// from its rims.
  struct Share {
    double covered = 0, doubtful = 0;
  };
  [[nodiscard]] Share share_of(const PartFaces& of, const FoundFeature& plane) const;

 private:
  [[nodiscard]] const Face* face_over(const Vec3& point, const Vec3& normal) const;

  const PartFaces& part_;
  double within_, rim_;
};

}  // namespace standpoint::test
