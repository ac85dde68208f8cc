#include "io/read/meshes/cut_polygon.h"

#include <algorithm>
#include <numeric>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>

namespace standpoint {
namespace {

using Point = CGAL::Exact_predicates_inexact_constructions_kernel::Point_2;

/// The corners in the coordinate plane that the polygon faces most, turning left.
std::vector<Point> flattened(std::span<const Vec3> corners) {
  // Newell's normal: twice the area vector, whatever the polygon's shape.
  Vec3 normal = Vec3::Zero();
  for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
    normal += (corners[i] - corners[0]).cross(corners[i + 1] - corners[0]);
  }
  Eigen::Index drop = 0;
  if (normal.isZero(0)) {  // both sides of a crossing may cancel: then the plane of its extent
    Vec3 low = corners[0];
    Vec3 high = corners[0];
    for (const Vec3& c : corners) {
      low = low.cwiseMin(c);
      high = high.cwiseMax(c);
    }
    (high - low).minCoeff(&drop);
  } else {
    normal.cwiseAbs().maxCoeff(&drop);
  }
  Eigen::Index across = (drop + 1) % 3;
  Eigen::Index up = (drop + 2) % 3;
  if (normal[drop] < 0) {
    std::swap(across, up);
  }
  std::vector<Point> points;
  points.reserve(corners.size());
  for (const Vec3& c : corners) {
    points.emplace_back(c[across], c[up]);
  }
  return points;
}

class EarCutter {
 public:
  explicit EarCutter(std::vector<Point> points)
      : points_(std::move(points)), left_(points_.size()) {
    std::iota(left_.begin(), left_.end(), 0U);
  }

  CutPolygon cut() {
    CutPolygon result;
    while (left_.size() > 3) {
      // Flat ears only where nothing else is left: they are degenerate triangles.
      std::size_t ear = find_ear(true);
      if (ear == left_.size()) {
        ear = find_ear(false);
      }
      if (ear == left_.size()) {
        return fan(points_.size());
      }
      result.triangles.push_back(around(ear));
      left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(ear));
    }
    if (turn(around(1)) == CGAL::RIGHT_TURN) {
      return fan(points_.size());
    }
    result.triangles.push_back({left_[0], left_[1], left_[2]});
    return result;
  }

  static CutPolygon fan(std::size_t corners) {
    CutPolygon result;
    result.is_fan = true;
    for (std::uint32_t i = 1; i + 1 < corners; ++i) {
      result.triangles.push_back({0, i, i + 1});
    }
    return result;
  }

 private:
  using Triangle = std::array<std::uint32_t, 3>;

  [[nodiscard]] Triangle around(std::size_t i) const {
    return {left_[(i + left_.size() - 1) % left_.size()], left_[i], left_[(i + 1) % left_.size()]};
  }
  [[nodiscard]] CGAL::Orientation turn(const Triangle& t) const {
    return CGAL::orientation(points_[t[0]], points_[t[1]], points_[t[2]]);
  }

  /// Whether corner `p` bars the ear `t`: lies in it (with `strict` also on its rim). A corner at
  /// the same place as one of the ear's does not: holes are often joined to the outside by a seam.
  [[nodiscard]] bool bars(const Triangle& t, const Point& p, bool strict) const {
    if (std::any_of(t.begin(), t.end(), [&](std::uint32_t c) { return points_[c] == p; })) {
      return false;
    }
    for (std::size_t side = 0; side < 3; ++side) {
      const CGAL::Orientation where =
          CGAL::orientation(points_[t[side]], points_[t[(side + 1) % 3]], p);
      if (where == CGAL::RIGHT_TURN || (where == CGAL::COLLINEAR && !strict)) {
        return false;
      }
    }
    return true;
  }

  [[nodiscard]] bool is_ear(std::size_t i, bool strict) const {
    const Triangle t = around(i);
    const CGAL::Orientation here = turn(t);
    if (here == CGAL::RIGHT_TURN || (here == CGAL::COLLINEAR && strict)) {
      return false;
    }
    return here == CGAL::COLLINEAR ||
           std::none_of(left_.begin(), left_.end(),
                        [&](std::uint32_t c) { return bars(t, points_[c], strict); });
  }

  [[nodiscard]] std::size_t find_ear(bool strict) const {
    std::size_t i = 0;
    while (i < left_.size() && !is_ear(i, strict)) {
      ++i;
    }
    return i;
  }

  std::vector<Point> points_;
  std::vector<std::uint32_t> left_;  ///< corners not yet cut off, in order
};

}  // namespace

CutPolygon cut_polygon(std::span<const Vec3> corners) {
  if (corners.size() == 3) {
    return {{{0, 1, 2}}, false};
  }
  if (corners.size() > kMostCornersCut) {
    return EarCutter::fan(corners.size());
  }
  return EarCutter(flattened(corners)).cut();
}

}  // namespace standpoint
