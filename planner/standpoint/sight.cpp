#include "standpoint/sight.h"

#include "planner/reach/sight.h"

namespace standpoint {

Sight look_from(const Cell& cell, const Stance& stance) {
  Sight sight;
  sight.at = stance.at;
  sight.up = stance.up;
  for (std::size_t f = 0; f < cell.scene().features.size(); ++f) {
    sight.features.push_back(judge_feature(cell, stance, FeatureId(f)));
  }
  for (std::size_t n = 0; n < cell.scene().nests.size(); ++n) {
    sight.nests.push_back(judge_nest(cell, stance, NestId(n)));
  }
  return sight;
}

}  // namespace standpoint
