#include "planner/reach/sight.h"

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"

namespace standpoint {

FeatureMark judge_feature(const Cell& cell, const Vec3& at, FeatureId feature) {
  return FeatureReach(cell, feature).mark(at);
}

NestMark judge_nest(const Cell& cell, const Vec3& at, NestId nest) {
  return {nest, NestReach(cell, cell.scene().nests[nest.index]).mark(at)};
}

}  // namespace standpoint
