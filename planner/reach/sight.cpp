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

Sight look_without_causes(const Cell& cell, const Stance& stance,
                          const std::function<bool(FeatureId)>& known_blocked) {
  const Scene& scene = cell.scene();
  Sight sight;
  sight.at = stance.at;
  sight.up = stance.up;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    if (known_blocked(FeatureId(f))) {
      sight.features.emplace_back().feature = FeatureId(f);
    } else {
      sight.features.push_back(FeatureReach(cell, FeatureId(f)).mark(stance, Causes::left_out));
    }
  }
  for (std::size_t n = 0; n < scene.nests.size(); ++n) {
    sight.nests.push_back(
        {NestId(n), NestReach(cell, scene.nests[n]).mark(stance, Causes::left_out)});
  }
  return sight;
}

}  // namespace standpoint
