#include "io/read/bodies/placed_body.h"

#include <limits>

namespace standpoint {

void place_vertices(ReadBody& body) {
  Vec3 low = Vec3::Constant(std::numeric_limits<double>::infinity());
  Vec3 high = -low;
  for (Vec3& v : body.mesh.vertices) {
    v = placed(body.placement, v);
    low = low.cwiseMin(v);
    high = high.cwiseMax(v);
  }
  body.report.low = low;
  body.report.high = high;
}

}  // namespace standpoint
