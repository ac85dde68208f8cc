#include "planner/stations/tie_rule.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Eigenvalues>

#include "planner/model/tolerances.h"
#include "planner/stations/some_off_line.h"

namespace standpoint {
namespace {

/// Greatest distance from the least-squares line, times 20, over the spread; nothing where all
/// places coincide. The line runs through the centroid along the eigenvector of the scatter
/// matrix's greatest eigenvalue (principal axis; Pearson, Phil. Mag. 2(11):559-572, 1901). Where
/// two eigenvalues are equal any of their directions is a best line; for fewer than 100 places the
/// answer is then true whichever is taken (derivation in docs/stations.md).
template <class Real>
Real twenty_distances_over_spread(const std::vector<Vec3>& places) {
  using Point = Eigen::Matrix<Real, 3, 1>;
  std::vector<Point> points;
  points.reserve(places.size());
  // From the first place: the differences are as good as the coordinates, however far the origin
  // is.
  const Point origin = places.front().cast<Real>();
  Point centroid = Point::Zero();
  for (const Vec3& place : places) {
    points.push_back(place.cast<Real>() - origin);
    centroid += points.back();
  }
  centroid /= static_cast<Real>(places.size());

  Eigen::Matrix<Real, 3, 3> scatter = Eigen::Matrix<Real, 3, 3>::Zero();
  for (const Point& point : points) scatter += (point - centroid) * (point - centroid).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<Real, 3, 3>> solver(scatter);
  const Point along = solver.eigenvectors().col(2);

  Real farthest = 0, spread = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    farthest = std::max(farthest, along.cross(points[i] - centroid).norm());
    for (std::size_t j = 0; j < i; ++j) {
      spread = std::max(spread, (points[i] - points[j]).norm());
    }
  }
  return spread == 0 ? Real(0) : 20 * farthest / spread;
}

}  // namespace

bool are_ties_asked(const Scene& scene) {
  return !scene.nests.empty() && scene.rules.shared_nests > 0;
}

bool counts_for_ties(const Scene& scene, Verdict verdict) {
  return verdict == Verdict::full_target ||
         (verdict == Verdict::offset_stylus && scene.rules.ties_by_stylus);
}

int least_shared_nests(const Scene& scene) {
  return std::max(3, scene.rules.shared_nests);
}

bool are_enough_to_link(const Scene& scene, const std::vector<Vec3>& places) {
  const auto least = static_cast<std::size_t>(least_shared_nests(scene));
  return some_off_line(places, least) == SomeOffLine::yes;
}

std::optional<NestsInLine> nests_in_line(const Scene& scene, const std::vector<NestId>& shared) {
  if (!are_ties_asked(scene) || shared.size() < static_cast<std::size_t>(least_shared_nests(scene)))
    return std::nullopt;
  std::vector<Vec3> places;
  places.reserve(shared.size());
  for (const NestId nest : shared) places.push_back(scene.nests[nest.index].at);
  if (are_enough_to_link(scene, places)) return std::nullopt;
  const LineRemedy remedy = line_remedy(places);
  return NestsInLine{shared[remedy.first], shared[remedy.last], remedy.off_mm};
}

bool are_off_one_line(const std::vector<Vec3>& places) {
  if (places.size() < 3) return false;
  const double ratio = twenty_distances_over_spread<double>(places);
  if (std::abs(ratio - 1) > tolerance::kUnsureRatio) return ratio > 1;
  return static_cast<double>(twenty_distances_over_spread<long double>(places)) >= 1;
}

}  // namespace standpoint
