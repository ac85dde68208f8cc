#include "planner/setup/held_row.h"

#include <algorithm>

#include "geometry/vec.h"
#include "planner/model/tolerances.h"
#include "planner/model/touch.h"
#include "planner/network/alignment.h"
#include "planner/network/budget.h"
#include "planner/network/touch_uncertainty.h"
#include "planner/setup/shape_distance.h"

namespace standpoint {
namespace {

Mat3 own_covariance(const Scene& scene, const SeenRow& seen) {
  if (!states_error(scene.instrument)) return Mat3::Identity();
  const Mat3 sight = observation_covariance(scene.instrument.error, Vec3::Zero(), seen.at);
  if (seen.nest) return floored(with_repeatability(sight, scene.environment));
  if (is_full_target(scene, seen.target)) return floored(sight);
  const OffsetStylus& stylus = offset_stylus(scene, seen.target);
  const auto with_error = [](const Mat3& sum, double error) {
    return floored(sum + error * error * Mat3::Identity());
  };
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus))
    return with_error(sight, mirror->error);
  const auto& rod = std::get<TwoBallStylus>(stylus);
  const double apart = rod.ball_distances[1] - rod.ball_distances[0];
  const double near = rod.ball_distances[0] / apart, far = rod.ball_distances[1] / apart;
  return with_error((near * near + far * far) * sight, rod.error);
}

/// Whether one plane holds all places of a surface.
bool is_flat(const SurfaceFeature& surface) {
  const PointFeature& first = surface.touches.front();
  return std::all_of(surface.touches.begin(), surface.touches.end(), [&](const PointFeature& one) {
    return std::abs(first.normal.dot(one.at - first.at)) <= tolerance::kNoExtent &&
           first.normal.cross(one.normal).norm() <= tolerance::kSamePlaneTurn;
  });
}

HeldRow row_of_nest(const Scene& scene, const SeenRow& seen) {
  HeldRow row;
  row.holds = Holds::place;
  row.read = seen.at;
  row.covariance = own_covariance(scene, seen);
  row.centre = row.anchor = scene.nests[seen.nest->index].at;
  row.is_anchored = true;
  return row;
}

void hold_by(const Feature& feature, Way way, HeldRow& row) {
  if (takes_whole_hole(way)) {
    const auto& hole = std::get<HoleFeature>(feature.shape);
    row.holds = Holds::rim;
    row.centre = hole.centre;
    row.normal = hole.axis;
    row.is_anchored = true;
  } else if (const auto* point = std::get_if<PointFeature>(&feature.shape)) {
    row.holds = point->holds_all ? Holds::place : Holds::point;
    row.centre = point->at;
    row.normal = point->normal;
    row.is_anchored = true;
  } else {
    row.holds = Holds::wall;
    row.wall = feature.shape;
  }
}

}  // namespace

RowResult held_row(const Scene& scene, const SeenRow& seen) {
  if (seen.nest) return {row_of_nest(scene, seen)};
  const Feature& feature = scene.features[seen.feature.index];
  const std::vector<TouchSet> sets = touch_sets(scene, feature, seen.target);
  if (sets.empty()) return {std::nullopt, RowFault::no_way, 0};
  const std::vector<Touch>& touches = sets.front().touches;
  if (seen.touch && *seen.touch >= touches.size())
    return {std::nullopt, RowFault::no_touch, touches.size()};
  HeldRow row;
  row.read = seen.at;
  row.covariance = own_covariance(scene, seen);
  row.radius = touching_radius(scene, seen.target);
  row.form = scene.alignment ? scene.alignment->form : 0;
  hold_by(feature, sets.front().way, row);
  if (const auto* surface = std::get_if<SurfaceFeature>(&feature.shape)) {
    if (!seen.touch && !is_flat(*surface))
      return {std::nullopt, RowFault::needs_touch, touches.size()};
    // A surface has no form that is known beside its places: near one it is its tangent plane.
    if (seen.touch) row.wall = surface->touches[*seen.touch];
  }
  row.is_anchored = row.is_anchored || seen.touch.has_value();
  for (const Touch& touch : touches)
    row.anchor += touch.optical_centre / static_cast<double>(touches.size());
  for (const Touch& touch : touches)
    row.extent = std::max(row.extent, (touch.optical_centre - row.anchor).norm());
  if (row.is_anchored) row.anchor = touches[seen.touch.value_or(0)].optical_centre;
  return {row, RowFault::no_way, touches.size()};
}

RowMisfit row_misfit(const HeldRow& row, const Vec3& in_world, double larger) {
  RowMisfit misfit;
  const double radius = row.radius + larger;
  if (row.holds == Holds::wall) {
    const SurfaceDistance from = surface_distance(row.wall, in_world);
    misfit.count = 1;
    misfit.off.x() = from.mm - radius;
    misfit.held.row(0) = from.out;
    misfit.by_radius.x() = 1;
    return misfit;
  }
  const Vec3 level = any_perpendicular(row.normal);
  misfit.held << row.normal.transpose(), level.transpose(), row.normal.cross(level).transpose();
  if (row.holds == Holds::rim) {  // how high the ball stands over it is not looked at
    const Mat3 all = misfit.held;
    misfit.held << all.row(1), all.row(2), Vec3::Zero().transpose();
    misfit.count = 2;
    misfit.off = misfit.held * (in_world - row.centre);
    return misfit;
  }
  misfit.count = 3;
  misfit.off = misfit.held * (in_world - row.centre) - radius * Vec3::UnitX();
  misfit.by_radius = row.radius > 0 ? Vec3(Vec3::UnitX()) : Vec3(Vec3::Zero());
  return misfit;
}

Mat3 row_covariance(const HeldRow& row, const RowMisfit& misfit,
                    const Mat3& world_from_instrument) {
  const Mat3 in_own = misfit.held * world_from_instrument;
  Mat3 covariance = in_own * row.covariance * in_own.transpose();
  covariance.diagonal().head(misfit.count).array() += row.form * row.form;
  if (row.holds == Holds::point) covariance.diagonal().tail<2>().array() += kByHand * kByHand;
  for (int unused = misfit.count; unused < 3; ++unused) covariance(unused, unused) = 1;
  return covariance;
}

}  // namespace standpoint
