#include "planner/why/steadiness.h"

#include <algorithm>
#include <numbers>

#include "geometry/directions.h"
#include "geometry/tree/tree.h"
#include "geometry/trigonometry.h"
#include "geometry/vec.h"
#include "planner/model/stand.h"
#include "planner/why/changed_cell.h"
#include "planner/why/smallest_change.h"

namespace standpoint {
namespace {

/// How far the station may move toward or across a point at `distance` before range or elevation of
/// the point fails, mm. A shift d changes the distance by at most d, and the direction by at most
/// asin(d / distance).
double range_slack(const Instrument& instrument, const Stance& station, const Vec3& point) {
  const double distance = (point - station.at).norm();
  const double elevation_rad = elevation_of(station, point);
  const double angle =
      std::min({instrument.elevation_rad.high - elevation_rad,
                elevation_rad - instrument.elevation_rad.low, std::numbers::pi / 2});
  return std::max(0.0, std::min({distance - instrument.range.low, instrument.range.high - distance,
                                 distance * sine(std::max(0.0, angle))}));
}

/// The same for a full target's acceptance at a touch or nest with contact direction -normal.
double acceptance_slack(const FullTarget& ball, double seat_rad, const Vec3& station,
                        const Vec3& centre, const Vec3& normal) {
  const double least = ball.aperture_rad + seat_rad - ball.acceptance_rad;
  if (least <= 0) return std::numeric_limits<double>::infinity();
  const Vec3 back = station - centre;
  const double spare = angle_between(back, -normal) - least;
  return back.norm() * sine(std::clamp(spare, 0.0, std::numbers::pi / 2));
}

/// Every touch of the mark keeps reached for station shifts up to this. No axis point of the beam
/// moves more than its ends do; its far end, on the ball, moves by at most the shift times
/// (ball radius / distance), its radius by less than growth times the shift: together below
/// (1 + growth) times the shift (derived here).
std::optional<double> proved_slack(const Scene& scene, Subject subject, const SubjectMark& mark,
                                   const Stance& station) {
  double least = std::numeric_limits<double>::infinity();
  const double nest_seat = std::holds_alternative<NestId>(subject)
                               ? scene.nests[std::get<NestId>(subject).index].seat_rad
                               : 0.0;
  for (std::size_t i = 0; i < mark.by_target.size(); ++i) {
    const auto& reached = mark.by_target[i];
    if (!reached) continue;  // enough without it
    if (!is_full_target(scene, reached->target)) return std::nullopt;
    const FullTarget& ball = full_target(scene, reached->target);
    const HoleAdapter* adapter = hole_adapter(scene, reached->target);
    const double seat = adapter != nullptr ? adapter->seat_rad : nest_seat;
    const Vec3& centre = reached->optical_centre;
    least = std::min(
        {least, (reached->margin - scene.rules.min_margin) / (1 + scene.instrument.beam_growth_rad),
         range_slack(scene.instrument, station, centre),
         acceptance_slack(ball, seat, station.at, centre, mark.touches[i].normal)});
  }
  return std::max(0.0, least);
}

/// How far the part may move before a ball at one of its touches, or the base that carries it,
/// meets something that does not move with it. The base is taken as the capsule that holds it.
double fit_slack(const Cell& others, const SubjectMark& mark) {
  const Scene& scene = others.scene();
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < mark.by_target.size(); ++i) {
    const auto& reached = mark.by_target[i];
    if (!reached || !is_full_target(scene, reached->target)) continue;
    const double radius = full_target(scene, reached->target).radius;
    const RoundCone ball = RoundCone::ball(reached->optical_centre, radius);
    std::vector<RoundCone> solids{ball};
    if (const HoleAdapter* adapter = hole_adapter(scene, reached->target);
        adapter != nullptr && adapter->height > radius) {
      const Vec3& foot = mark.touches[i].at;
      const Vec3 top = foot + (adapter->height - radius) * mark.touches[i].normal;
      solids.push_back(RoundCone::capsule(foot, top, adapter->base_radius));
    }
    for (const RoundCone& solid : solids) {
      if (const auto contact = others.tree().nearest(solid))
        least = std::min(least, contact->nearest.margin + scene.rules.fit_tolerance);
    }
  }
  return std::max(0.0, least);
}

/// The shortest shift, over the directions, that `breaks`.
template <class Breaks>
void search(Steadiness& steadiness, const std::vector<Vec3>& directions, double step,
            Breaks breaks) {
  steadiness.directions = static_cast<int>(directions.size());
  double longest = steadiness.longest;
  for (const Vec3& along : directions) {
    for (double off = step; off <= longest; off += step) {
      if (!breaks(Vec3(off * along))) continue;
      longest = narrowed(off - step, off, steadiness.width,
                         [&](double d) { return breaks(Vec3(d * along)); });
      steadiness.breaks = longest * along;
      break;
    }
  }
}

}  // namespace

Steadiness station_steadiness(const Cell& cell, Subject subject, const Stance& station) {
  SubjectReach reach(cell, subject);
  const SubjectMark mark = reach.mark(station);
  Steadiness steadiness{proved_slack(cell.scene(), subject, mark, station), std::nullopt, 300, 0,
                        0.1};
  search(steadiness, directions_at_level(2), 5,
         [&](const Vec3& by) { return reach.verdict(station.shifted(by)) != mark.verdict; });
  return steadiness;
}

Steadiness part_steadiness(const Cell& cell, Subject subject, const Stance& station) {
  SubjectReach reach(cell, subject);
  const SubjectMark mark = reach.mark(station);
  Steadiness steadiness{proved_slack(cell.scene(), subject, mark, station), std::nullopt, 100, 0,
                        1};
  if (steadiness.proved) {
    *steadiness.proved = std::min(*steadiness.proved, fit_slack(without_part(cell), mark));
  }
  std::vector<Vec3> directions;
  for (int axis = 0; axis < 3; ++axis) {
    directions.push_back(Vec3::Unit(axis));
    directions.push_back(-Vec3::Unit(axis));
  }
  search(steadiness, directions, 20, [&](const Vec3& by) {
    return SubjectReach(with_part_moved(cell, by), subject).verdict(station) != mark.verdict;
  });
  return steadiness;
}

}  // namespace standpoint
