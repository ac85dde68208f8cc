#include "io/read/scene/points_in_line.h"

#include <algorithm>

#include "io/words/tolerances.h"

namespace standpoint {

bool are_in_line(const std::vector<Vec3>& points) {
  const Vec3& first = points.front();
  const auto farthest =
      std::max_element(points.begin(), points.end(), [&](const Vec3& a, const Vec3& b) {
        return (a - first).squaredNorm() < (b - first).squaredNorm();
      });
  const Vec3 line = *farthest - first;
  // |cross| is length times distance from the line.
  return std::all_of(points.begin(), points.end(), [&](const Vec3& point) {
    return line.cross(point - first).norm() <= tolerance::kLineShare * line.squaredNorm();
  });
}

}  // namespace standpoint
