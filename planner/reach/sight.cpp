#include "planner/reach/sight.h"

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"

namespace standpoint {

FeatureMark judge_feature(const Cell& cell, const Stance& stance, FeatureId feature) {
  return FeatureReach(cell, feature).mark(stance);
}

NestMark judge_nest(const Cell& cell, const Stance& stance, NestId nest) {
  return {nest, NestReach(cell, cell.scene().nests[nest.index]).mark(stance)};
}

}  // namespace standpoint
