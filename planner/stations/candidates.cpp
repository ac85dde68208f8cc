#include "planner/stations/candidates.h"
#include "planner/model/stand.h"
#include "planner/stations/closed_bodies.h"
#include "planner/stations/zone_polygon.h"

#include <array>
#include <set>

namespace standpoint {
namespace {

/// What two candidates must share to be one: coordinates and standing axis.
using Standing = std::array<double, 6>;

Standing standing_of(const Candidate& candidate) {
  const auto& [at, up] = std::tie(candidate.at, candidate.up);
  return {at.x(), at.y(), at.z(), up.x(), up.y(), up.z()};
}

std::vector<Candidate> all_generated(const Scene& scene) {
  std::vector<Candidate> raised;
  for (const FixedStation& station : scene.fixed_stations) {
    for (const Vec3& up : station.instrument_ups)
      raised.push_back({station.at, station.name, std::nullopt, station.keep, station.cost, up});
  }
  for (std::uint32_t z = 0; z < scene.zones.size(); ++z) {
    const Zone& zone = scene.zones[z];
    for (const Vec3& at : zone_grid(zone))
      for (const Vec3& up : zone.instrument_ups)
        raised.push_back({at, {}, z, false, zone.cost, up});
  }
  return raised;
}

}  // namespace

bool has_room(const Cell& cell, const Stance& stance) {
  return !body_in_the_way(cell, stance);
}

Candidates generate_candidates(const Cell& cell) {
  Candidates result;
  const std::vector<Candidate> raised = all_generated(cell.scene());
  result.tally.tried = static_cast<int>(raised.size());
  std::set<Standing> taken;
  for (const Candidate& candidate : raised) {
    if (candidate.keep) taken.insert(standing_of(candidate));
  }
  ClosedBodies closed(cell);
  for (const Candidate& candidate : raised) {
    const bool is_kept_out = keep_out_under(cell.scene(), candidate.at.head<2>()) != nullptr;
    const bool is_colliding = !has_room(cell, stance_of(candidate));
    const bool is_inside = !is_colliding && closed.first_around(candidate.at);
    if (candidate.keep) {
      if (is_kept_out) result.kept_but_kept_out.emplace_back(result.kept.size());
      if (is_colliding || is_inside) result.kept_but_colliding.emplace_back(result.kept.size());
    } else if (is_kept_out) {
      ++result.tally.keep_out;
      continue;
    } else if (is_colliding) {
      ++result.tally.body_collides;
      continue;
    } else if (is_inside) {
      ++result.tally.inside_body;
      continue;
    } else if (!taken.insert(standing_of(candidate)).second) {
      ++result.tally.duplicate;
      continue;
    }
    result.kept.push_back(candidate);
  }
  return result;
}

}  // namespace standpoint
