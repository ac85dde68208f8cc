#include "planner/crew/cautions.h"

#include <algorithm>
#include <cmath>

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2_algorithms.h>
#include <CGAL/intersections.h>

#include "planner/crew/work_order.h"

namespace standpoint {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point2 = Kernel::Point_2;
using Segment2 = Kernel::Segment_2;

Point2 flat(const Vec3& p) {
  return {p.x(), p.y()};
}

/// The part of a-b with z inside `band`.
std::optional<std::pair<Vec3, Vec3>> cut_to_band(Vec3 a, Vec3 b, const Interval& band) {
  const bool is_reversed = a.z() > b.z();
  if (is_reversed) std::swap(a, b);
  if (b.z() < band.low || a.z() > band.high) return std::nullopt;
  const auto at_height = [&](double z) -> Vec3 {
    Vec3 p = a + (z - a.z()) / (b.z() - a.z()) * (b - a);
    p.z() = z;
    return p;
  };
  // A level segment has both ends inside here, so no division by zero is reached.
  Vec3 low = a.z() < band.low ? at_height(band.low) : a;
  Vec3 high = b.z() > band.high ? at_height(band.high) : b;
  if (is_reversed) std::swap(low, high);
  return std::pair{low, high};
}

/// Widens [first, last] by the fractions of a-b at which the plan segment meets the edge p-q.
void widen(const Vec3& a, const Vec3& b, const Vec2& p, const Vec2& q, Interval& span) {
  const Vec2 d = (b - a).head<2>();
  const Vec2 e = q - p;
  const Vec2 offset = p - a.head<2>();
  const double cross = d.x() * e.y() - d.y() * e.x();
  const auto add = [&](double t) {
    t = std::clamp(t, 0.0, 1.0);
    span.low = std::min(span.low, t);
    span.high = std::max(span.high, t);
  };
  // Parallel (or nearly): the edge's ends bound the overlap.
  if (std::abs(cross) <= 1e-12 * d.norm() * e.norm()) {
    for (const Vec2& end : {p, q}) add((end - a.head<2>()).dot(d) / d.squaredNorm());
    return;
  }
  add((offset.x() * e.y() - offset.y() * e.x()) / cross);
}

void add_beam(const Scene& scene, const Vec3& from, const Vec3& to, BeamOverWalkway beam,
              std::vector<BeamOverWalkway>& beams) {
  for (std::uint32_t w = 0; w < scene.walkways.size(); ++w) {
    const auto stretch = stretch_at_eye_height(scene.walkways[w], from, to);
    if (!stretch) continue;
    const bool is_known =
        std::any_of(beams.begin(), beams.end(), [&](const BeamOverWalkway& other) {
          return other.station == beam.station && other.feature == beam.feature &&
                 other.nest == beam.nest && other.walkway == w;
        });
    if (is_known) continue;  // one line for a feature, however many touches
    beam.walkway = w;
    std::tie(beam.from, beam.to) = *stretch;
    beams.push_back(beam);
  }
}

void add_beams(const Scene& scene, const Plan& plan, StationId id, Cautions& cautions) {
  const PlannedStation& station = plan.stations[id.index];
  for (const PlannedFeature& planned : plan.features) {
    if (!is_measured_from(planned, id)) continue;
    BeamOverWalkway beam;
    beam.station = id;
    beam.feature = planned.feature;
    const FeatureMark& mark = mark_at(plan, planned, id);
    for (std::size_t t = 0; t < mark.by_target.size(); ++t) {
      const auto& reached = mark.by_target[t];
      if (!reached || !is_taken_from(planned, id, t)) continue;
      for (const Vec3& end : reached->beam_ends)
        add_beam(scene, station.at, end, beam, cautions.beams);
    }
  }
  for (const NestId nest : station.nests) {
    BeamOverWalkway beam;
    beam.station = id;
    beam.nest = nest;
    const auto& best = station.sight.nests[nest.index].mark.best;
    if (!best) continue;
    for (const Vec3& end : best->beam_ends) add_beam(scene, station.at, end, beam, cautions.beams);
  }
}

double floor_of_scene(const Scene& scene) {
  if (scene.zones.empty()) return 0;
  return std::min_element(scene.zones.begin(), scene.zones.end(),
                          [](const Zone& a, const Zone& b) { return a.floor < b.floor; })
      ->floor;
}

/// How high the touches lie that are taken of one feature from one station.
FeatureAtHeight height_of(const Plan& plan, const PlannedFeature& planned, StationId station,
                          double floor) {
  const FeatureMark& mark = mark_at(plan, planned, station);
  FeatureAtHeight high{planned.feature, 0, 0};
  for (std::size_t t = 0; t < mark.touches.size(); ++t) {
    const double height = mark.touches[t].at.z() - floor;
    if (!mark.by_target[t] || !is_taken_from(planned, station, t)) continue;
    if (height <= kWorkAtHeight) continue;
    ++high.touches;
    high.height = std::max(high.height, height);
  }
  return high;
}

/// Of the stations `from`: how high they stand, and what is measured from them high up or by hand.
/// A feature measured from several of them is told once, with the most of it.
void add_heights(const Scene& scene, const Plan& plan, const std::vector<StationId>& from,
                 Cautions& cautions) {
  for (const StationId id : from) {
    const PlannedStation& station = plan.stations[id.index];
    const double floor = station.zone ? scene.zones[*station.zone].floor : cautions.floor;
    const double height = station.at.z() - floor;
    if (height > kWorkAtHeight) cautions.stations.push_back({id, height});
    if (!is_upright(station.up)) cautions.not_upright.push_back(id);
  }
  for (const PlannedFeature& planned : plan.features) {
    FeatureAtHeight highest{planned.feature, 0, 0};
    bool is_hand_held = false;
    for (const StationId id : from) {
      if (!is_measured_from(planned, id)) continue;
      const FeatureAtHeight high = height_of(plan, planned, id, cautions.floor);
      highest.touches = planned.stations.empty() ? std::max(highest.touches, high.touches)
                                                 : highest.touches + high.touches;
      highest.height = std::max(highest.height, high.height);
      is_hand_held |= mark_at(plan, planned, id).verdict == Verdict::offset_stylus;
    }
    if (highest.touches > 0) cautions.features.push_back(highest);
    if (is_hand_held) cautions.by_hand_held.push_back(planned.feature);
  }
  for (std::size_t n = 0; n < scene.nests.size(); ++n) {
    const NestId nest(n);
    const bool is_used = std::any_of(from.begin(), from.end(), [&](StationId id) {
      const auto& nests = plan.stations[id.index].nests;
      return std::count(nests.begin(), nests.end(), nest) > 0;
    });
    const double height = scene.nests[n].at.z() - cautions.floor;
    if (is_used && height > kWorkAtHeight) cautions.nests.push_back({nest, height});
  }
}

Cautions cautions_from(const Scene& scene, const Plan& plan, const std::vector<StationId>& from) {
  Cautions cautions;
  cautions.floor = floor_of_scene(scene);
  for (const StationId id : from) add_beams(scene, plan, id, cautions);
  add_heights(scene, plan, from, cautions);
  return cautions;
}

}  // namespace

std::optional<std::pair<Vec3, Vec3>> stretch_at_eye_height(const Walkway& walkway, const Vec3& a,
                                                           const Vec3& b) {
  const auto band =
      cut_to_band(a, b, {walkway.floor + kEyeHeight.low, walkway.floor + kEyeHeight.high});
  if (!band) return std::nullopt;
  const auto& [from, to] = *band;
  std::vector<Point2> corners;
  corners.reserve(walkway.polygon.size());
  for (const Vec2& corner : walkway.polygon) corners.emplace_back(corner.x(), corner.y());

  const auto is_inside = [&](const Vec3& p) {
    return CGAL::bounded_side_2(corners.begin(), corners.end(), flat(p), Kernel()) !=
           CGAL::ON_UNBOUNDED_SIDE;
  };
  const bool starts_inside = is_inside(from);
  const bool ends_inside = is_inside(to);
  if (starts_inside && ends_inside) return std::pair{from, to};
  // Upright, or shrunk to a point: its ends have said all.
  if (flat(from) == flat(to)) return std::nullopt;

  Interval span{1, 0};
  if (starts_inside) span = {0, 0};
  if (ends_inside) span = {1, 1};
  bool meets = starts_inside || ends_inside;
  const Segment2 segment(flat(from), flat(to));
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const std::size_t j = (i + 1) % corners.size();
    if (!CGAL::do_intersect(segment, Segment2(corners[i], corners[j]))) continue;
    meets = true;
    widen(from, to, walkway.polygon[i], walkway.polygon[j], span);
  }
  if (!meets) return std::nullopt;
  const Vec3 along = to - from;
  return std::pair<Vec3, Vec3>{from + span.low * along, from + span.high * along};
}

Cautions find_cautions(const Scene& scene, const Plan& plan) {
  std::vector<StationId> all;
  all.reserve(plan.stations.size());
  for (std::size_t s = 0; s < plan.stations.size(); ++s) all.emplace_back(s);
  return cautions_from(scene, plan, all);
}

Cautions find_cautions_at(const Scene& scene, const Plan& plan, StationId station) {
  return cautions_from(scene, plan, {station});
}

}  // namespace standpoint
