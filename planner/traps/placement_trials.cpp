#include "planner/traps/placement_trials.h"

#include <algorithm>
#include <array>

#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

constexpr double kEnough = 0.9;
/// More touches than this tell no more.
constexpr std::size_t kMostTried = 300;
/// Between each two of millimetre, centimetre, inch, foot and metre.
constexpr std::array kRatios{1000.0, 25.4, 10.0, 304.8, 1000 / 25.4,
                             100.0,  2.54, 12.0, 30.48, 1000 / 304.8};

/// The turns by which files of other habits lie on their side: a quarter about x for those whose
/// Y points up, and so on.
const std::array<Vec3, 5>& turns() {
  static const std::array<Vec3, 5> all{Vec3(90, 0, 0), Vec3(-90, 0, 0), Vec3(0, 90, 0),
                                       Vec3(0, -90, 0), Vec3(180, 0, 0)};
  return all;
}

/// A turn of `turns()` as a matrix: exact, since it is of quarters about one axis.
Mat3 matrix_of(const Vec3& turn_deg) {
  const int axis = turn_deg.x() != 0 ? 0 : 1;
  const bool is_half = std::abs(turn_deg[axis]) == 180;
  const double cos = is_half ? -1 : 0, sin = is_half ? 0 : turn_deg[axis] / 90;
  const int next = (axis + 1) % 3, after = (axis + 2) % 3;
  Mat3 turn = Mat3::Identity();
  turn(next, next) = cos;
  turn(next, after) = -sin;
  turn(after, next) = sin;
  turn(after, after) = cos;
  return turn;
}

std::vector<Vec3> sample_of(const std::vector<Vec3>& all) {
  std::vector<Vec3> some;
  const std::size_t count = std::min(all.size(), kMostTried);
  for (std::size_t i = 0; i < count; ++i) some.push_back(all[i * all.size() / count]);
  return some;
}

}  // namespace

std::optional<PlacementTrial> best_trial(const Mesh& mesh, const Placement& placement,
                                         const std::vector<Vec3>& strays) {
  const Tree tree({&mesh});
  const std::vector<Vec3> sample = sample_of(strays);
  Vec3 low = mesh.vertices.front(), high = low;
  for (const Vec3& v : mesh.vertices) {
    low = low.cwiseMin(v);
    high = high.cwiseMax(v);
  }
  const double diagonal = (high - low).norm();
  const auto share_of = [&](double scale, const Mat3& turn) {
    // The touch is taken to where it is seen from the part as it stands now.
    const Mat3 back = placement.turn * turn.transpose() * placement.turn.transpose();
    // A part that shrinks to a point has every touch near it that is near that point.
    const double within = std::min(tolerance::kStray, 0.01 * diagonal * scale) / scale;
    std::size_t near = 0;
    for (const Vec3& p : sample) {
      const Vec3 q = back * (p - placement.shift) / scale + placement.shift;
      near += tree.is_clear(RoundCone::ball(q, 0), within) ? 0 : 1;
    }
    return static_cast<double>(near) / static_cast<double>(sample.size());
  };
  std::vector<double> scales{1};
  for (const double ratio : kRatios) scales.insert(scales.end(), {ratio, 1 / ratio});
  std::optional<PlacementTrial> best;
  const auto try_out = [&](double scale, const Vec3& turn_deg) {
    const bool is_turned = turn_deg != Vec3::Zero();
    const double share = share_of(scale, is_turned ? matrix_of(turn_deg) : Mat3::Identity());
    if (share >= kEnough && (!best || share > best->share)) best = {scale, turn_deg, share};
  };
  const bool can_turn = placement.turn(2, 2) == 1;
  for (const double scale : scales)
    if (scale != 1) try_out(scale, Vec3::Zero());
  for (const double scale : scales) {
    for (const Vec3& turn : turns())
      if (can_turn) try_out(scale, turn);
  }
  return best;
}

}  // namespace standpoint
