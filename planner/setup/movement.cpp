#include "planner/setup/movement.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>

#include "geometry/trigonometry.h"
#include "planner/network/budget.h"
#include "planner/network/chi_square.h"
#include "planner/setup/rigid_fit.h"
#include "planner/stations/some_off_line.h"
#include "planner/stations/ties.h"

namespace standpoint {
namespace {

constexpr double kStill = 0.99;

/// The second reading as it is, the first as the place that it should be at.
FitPoint pair_of(const Scene& scene, const SeenNest& first, const SeenNest& again) {
  FitPoint point{first.at, again.at, 2 * Mat3::Identity()};
  if (!states_error(scene.instrument)) return point;
  const auto covariance = [&](const Vec3& at) {
    return floored(with_repeatability(
        observation_covariance(scene.instrument.error, Vec3::Zero(), at), scene.environment));
  };
  point.covariance = covariance(first.at) + covariance(again.at);
  return point;
}

/// The turn that the matrix makes, rad about its axis.
Vec3 turn_of(const Mat3& matrix) {
  const Vec3 axis(matrix(2, 1) - matrix(1, 2), matrix(0, 2) - matrix(2, 0),
                  matrix(1, 0) - matrix(0, 1));
  const double sine_twice = axis.norm();
  if (sine_twice == 0) return Vec3::Zero();
  return arc_tangent(sine_twice / 2, (matrix.trace() - 1) / 2) / sine_twice * axis;
}

void follow_station(const std::vector<FitPoint>& pairs, const Pose& world_from_instrument,
                    Movement& movement) {
  std::vector<Vec3> places;
  places.reserve(pairs.size());
  for (const FitPoint& pair : pairs) places.push_back(pair.in_world);
  if (places.size() < 3 || some_off_line(places, 3) != SomeOffLine::yes) return;
  const RigidFit fit = fit_rigidly(pairs);
  movement.shift_of_station =
      world_from_instrument.linear() * fit.world_from_instrument.translation();
  movement.turn_of_station =
      world_from_instrument.linear() * turn_of(fit.world_from_instrument.linear());
  movement.chi_square_after = fit.chi_square;
  movement.bound_after = chi_square_quantile(3 * static_cast<double>(pairs.size()) - 6, kStill);
}

/// The nests without which the others stand where they stood, the one that moved most first.
std::vector<std::size_t> lone_movers(const Movement& movement) {
  std::vector<std::size_t> movers;
  if (movement.nests.size() < 3) return movers;
  const double bound =
      chi_square_quantile(3 * static_cast<double>(movement.nests.size() - 1), kStill);
  for (std::size_t i = 0; i < movement.nests.size(); ++i)
    if (movement.chi_square - movement.nests[i].chi_square <= bound) movers.push_back(i);
  std::stable_sort(movers.begin(), movers.end(), [&](std::size_t a, std::size_t b) {
    return movement.nests[a].chi_square > movement.nests[b].chi_square;
  });
  return movers;
}

void judge(Movement& movement) {
  movement.freedoms = 3 * static_cast<int>(movement.nests.size());
  movement.bound = chi_square_quantile(movement.freedoms, kStill);
  if (movement.chi_square <= movement.bound) {
    movement.moved = Moved::nothing;
    return;
  }
  if (movement.nests.size() < 3) {
    movement.moved = Moved::cannot_tell;
    return;
  }
  if (std::vector<std::size_t> movers = lone_movers(movement); !movers.empty()) {
    movement.moved = Moved::nest;
    movement.nest = movers.front();
    movement.rivals.assign(movers.begin() + 1, movers.end());
    return;
  }
  const bool is_rigid =
      movement.shift_of_station && movement.chi_square_after <= movement.bound_after;
  movement.moved = is_rigid ? Moved::station : Moved::several;
}

}  // namespace

Movement find_movement(const Scene& scene, const std::vector<SeenNest>& first,
                       const std::vector<SeenNest>& again, const Pose& world_from_instrument) {
  Movement movement;
  std::vector<FitPoint> pairs;
  for (const SeenNest& second : again) {
    const auto before = std::find_if(first.begin(), first.end(),
                                     [&](const SeenNest& one) { return one.nest == second.nest; });
    pairs.push_back(pair_of(scene, *before, second));
    const Vec3 off = second.at - before->at;
    NestShift& shift = movement.nests.emplace_back();
    shift.nest = second.nest;
    shift.shift = world_from_instrument.linear() * off;
    shift.chi_square = off.dot(pairs.back().covariance.ldlt().solve(off));
    movement.chi_square += shift.chi_square;
  }
  follow_station(pairs, world_from_instrument, movement);
  if (states_error(scene.instrument)) judge(movement);
  return movement;
}

}  // namespace standpoint
