#include "standpoint/sight.h"

#include "planner/reach/sight.h"

namespace standpoint {

Sight look_from(const Cell& cell, const Vec3& at) {
  Sight sight;
  sight.at = at;
  for (std::size_t f = 0; f < cell.scene().features.size(); ++f) {
    sight.features.push_back(judge_feature(cell, at, FeatureId(f)));
  }
  for (std::size_t n = 0; n < cell.scene().nests.size(); ++n) {
    sight.nests.push_back(judge_nest(cell, at, NestId(n)));
  }
  return sight;
}

}  // namespace standpoint
