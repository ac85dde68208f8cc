#include "planner/stations/candidates.h"
#include "planner/model/stand.h"
#include "planner/stations/closed_bodies.h"

#include <array>
#include <set>

namespace standpoint {
namespace {

using Place = std::array<double, 3>;

Place place_of(const Vec3& at) {
  return {at.x(), at.y(), at.z()};
}

std::vector<Candidate> all_generated(const Scene& scene) {
  std::vector<Candidate> raised;
  for (const FixedStation& station : scene.fixed_stations) {
    raised.push_back({station.at, station.name, std::nullopt, station.keep, station.cost});
  }
  for (std::uint32_t z = 0; z < scene.zones.size(); ++z) {
    const Zone& zone = scene.zones[z];
    for (const Vec3& at : zone_grid(zone)) raised.push_back({at, {}, z, false, zone.cost});
  }
  return raised;
}

}  // namespace

bool has_room(const Cell& cell, const Vec3& at) {
  return !body_in_the_way(cell, at);
}

Candidates generate_candidates(const Cell& cell) {
  Candidates result;
  const std::vector<Candidate> raised = all_generated(cell.scene());
  result.tally.tried = static_cast<int>(raised.size());
  std::set<Place> taken;
  for (const Candidate& candidate : raised) {
    if (candidate.keep) taken.insert(place_of(candidate.at));
  }
  ClosedBodies closed(cell);
  for (const Candidate& candidate : raised) {
    const bool is_colliding = !has_room(cell, candidate.at);
    const bool is_inside = !is_colliding && closed.first_around(candidate.at);
    if (candidate.keep) {
      if (is_colliding || is_inside) result.kept_but_colliding.emplace_back(result.kept.size());
    } else if (is_colliding) {
      ++result.tally.body_collides;
      continue;
    } else if (is_inside) {
      ++result.tally.inside_body;
      continue;
    } else if (!taken.insert(place_of(candidate.at)).second) {
      ++result.tally.duplicate;
      continue;
    }
    result.kept.push_back(candidate);
  }
  return result;
}

}  // namespace standpoint
