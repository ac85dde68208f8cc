#include "planner/part/step_links.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

/// A round, a plane, a round: no more faces stand between two steps.
constexpr int kMostBetween = 4;

struct Search {
  const PartFaces& part;
  const std::vector<RoundWall>& walls;
  const std::vector<std::vector<std::size_t>>& walls_of_face;
};

/// A way from a wall's end: the faces passed, and the wall it leads to.
struct Way {
  std::size_t wall = 0;
  std::vector<std::size_t> between;
  double far = 0;  ///< along the axis
};

bool is_coaxial(const RoundWall& a, const RoundWall& b) {
  const double slack = std::max(a.slack, b.slack);
  return std::abs(a.axis.direction.dot(b.axis.direction)) > 1 - tolerance::kSameDirection &&
         a.axis.off(b.axis.on(b.low.level)) <= slack &&
         a.axis.off(b.axis.on(b.high.level)) <= slack &&
         b.axis.off(a.axis.on(a.low.level)) <= slack &&
         b.axis.off(a.axis.on(a.high.level)) <= slack;
}

/// Whether `b` goes on where `a` ends at its high (else low) end, and narrows toward it.
bool goes_on(const RoundWall& a, const RoundWall& b, bool high) {
  if (!b.hollow || !is_coaxial(a, b)) return false;
  const bool alike = a.axis.direction.dot(b.axis.direction) > 0;
  const WallEnd& near = high == alike ? b.low : b.high;
  const double gap = a.axis.height(b.axis.on(near.level)) - (high ? a.high.level : a.low.level);
  const double slack = 2 * std::max(a.slack, b.slack);
  return !near.outward && (high ? gap >= -slack : gap <= slack);
}

/// Faces that a way may go on over from `face`, by its edges.
std::vector<std::size_t> next_faces(const Search& in, std::size_t face, const RoundWall& wall) {
  std::vector<std::size_t> next;
  for (const Loop& loop : in.part.faces[face].loops)
    for (const Edge& edge : loop) {
      if (!edge.beyond || *edge.beyond == face) continue;
      const Face& beyond = in.part.faces[*edge.beyond];
      if (is_about(beyond, wall.axis, wall.slack) || edge.bend == EdgeBend::smooth ||
          !in.walls_of_face[*edge.beyond].empty())
        next.push_back(*edge.beyond);
    }
  return next;
}

/// The faces that a way first goes over at a wall's end.
std::vector<std::size_t> first_faces(const Search& in, const RoundWall& wall, const WallEnd& end) {
  std::vector<std::size_t> first;
  for (const std::size_t face : end.beyond) {
    const SurfaceKind kind = in.part.faces[face].surface.kind;
    if (is_about(in.part.faces[face], wall.axis, wall.slack) || kind == SurfaceKind::other ||
        kind == SurfaceKind::torus)
      first.push_back(face);
  }
  return first;
}

/// All walls that can be reached from an end that leads outward, each with a shortest way.
std::vector<Way> ways_from(const Search& in, std::size_t from, bool high) {
  const RoundWall& wall = in.walls[from];
  const WallEnd& end = high ? wall.high : wall.low;
  std::vector<Way> found;
  std::map<std::size_t, std::size_t> came_from;
  std::vector<std::size_t> now = first_faces(in, wall, end);
  for (const std::size_t face : now) came_from.emplace(face, face);
  for (int depth = 0; depth < kMostBetween && !now.empty(); ++depth) {
    std::vector<std::size_t> later;
    for (const std::size_t face : now)
      for (const std::size_t next : next_faces(in, face, wall)) {
        if (!came_from.emplace(next, face).second) continue;
        const auto& reached = in.walls_of_face[next];
        if (reached.empty()) later.push_back(next);
        for (const std::size_t b : reached) {
          if (b == from || !goes_on(wall, in.walls[b], high)) continue;
          Way way;
          way.wall = b;
          for (std::size_t f = face;; f = came_from[f]) {
            way.between.push_back(f);
            if (came_from[f] == f) break;
          }
          const double middle = wall.axis.height(
              in.walls[b].axis.on((in.walls[b].low.level + in.walls[b].high.level) / 2));
          way.far = std::abs(middle - end.level);
          found.push_back(std::move(way));
        }
      }
    now = std::move(later);
  }
  return found;
}

struct Ends {
  std::size_t from;
  bool high;
  Way way;
};

/// Takes the nearest ones first; an end that has its link keeps it.
StepLinks taken_links(const std::vector<RoundWall>& walls, std::vector<Ends> all) {
  std::stable_sort(all.begin(), all.end(),
                   [](const Ends& a, const Ends& b) { return a.way.far < b.way.far; });
  StepLinks links;
  links.low.resize(walls.size());
  links.high.resize(walls.size());
  for (Ends& ends : all) {
    const std::size_t to = ends.way.wall;
    const bool alike = walls[ends.from].axis.direction.dot(walls[to].axis.direction) > 0;
    StepLink& here = (ends.high ? links.high : links.low)[ends.from];
    StepLink& there = (ends.high == alike ? links.low : links.high)[to];
    if (here.wall && here.wall == there.wall) continue;
    if (here.wall && *here.wall == to && there.wall && *there.wall == ends.from) {
      here.between.insert(here.between.end(), ends.way.between.begin(), ends.way.between.end());
      continue;
    }
    if (here.wall || there.wall) continue;
    here = {to, ends.way.between};
    there = {ends.from, std::move(ends.way.between)};
  }
  return links;
}

}  // namespace

bool is_about(const Face& face, const Axis& axis, double slack) {
  const Surface& s = face.surface;
  if (s.kind == SurfaceKind::sphere) return axis.off(s.at) <= slack;
  if (s.kind == SurfaceKind::other || s.kind == SurfaceKind::cylinder) return false;
  if (!(axis.direction.cross(s.axis).norm() <= tolerance::kSameDirection)) return false;
  return s.kind == SurfaceKind::plane || axis.off(s.at) <= 2 * slack;
}

StepLinks link_steps(const PartFaces& part, const std::vector<RoundWall>& walls) {
  std::vector<std::vector<std::size_t>> walls_of_face(part.faces.size());
  for (std::size_t i = 0; i < walls.size(); ++i)
    for (const std::size_t face : walls[i].faces) walls_of_face[face].push_back(i);
  const Search search{part, walls, walls_of_face};
  std::vector<Ends> all;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    if (walls[i].high.outward)
      for (Way& way : ways_from(search, i, true)) all.push_back({i, true, std::move(way)});
    if (walls[i].low.outward)
      for (Way& way : ways_from(search, i, false)) all.push_back({i, false, std::move(way)});
  }
  return taken_links(walls, std::move(all));
}

}  // namespace standpoint
