#include "planner/part/round_wall.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "geometry/vec.h"
#include "planner/part/rays.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

bool is_sound(const Surface& s) {
  const auto is_length = [](double x) { return std::isfinite(x) && x > 0; };
  const bool has_axis = s.kind != SurfaceKind::sphere && s.kind != SurfaceKind::other;
  if (!s.at.allFinite() || (has_axis && !(std::abs(s.axis.norm() - 1) < 1e-6))) return false;
  switch (s.kind) {
    case SurfaceKind::cylinder:
    case SurfaceKind::sphere:
    case SurfaceKind::torus:
      return is_length(s.radius);
    case SurfaceKind::cone:
      return std::isfinite(s.radius) && is_length(s.half_angle_rad) && s.half_angle_rad < 1.57;
    default:
      return true;
  }
}

/// The heights over which a face reaches along its own axis.
Interval extent_of(const Face& face) {
  Interval extent{std::numeric_limits<double>::infinity(),
                  -std::numeric_limits<double>::infinity()};
  for (const Loop& loop : face.loops)
    for (const Edge& edge : loop)
      for (const Vec3& p : edge.points) {
        const double z = face.surface.axis.dot(p - face.surface.at);
        extent = {std::min(extent.low, z), std::max(extent.high, z)};
      }
  return extent;
}

/// Whether the axis of `a` runs through both ends of `b`'s.
bool runs_along(const Surface& a, const Surface& b, const Interval& b_extent, double slack) {
  for (const double z : {b_extent.low, b_extent.high}) {
    const Vec3 p = b.at + z * b.axis;
    if (!(a.axis.cross(p - a.at).norm() <= slack)) return false;
  }
  return true;
}

/// A face that may belong to a wall, with what is compared of it.
struct Candidate {
  std::size_t face = 0;
  Interval extent;
  double size = 0;  ///< radius; a cone's half angle
};

Vec3 tip_of(const Surface& cone) {
  return cone.at - cone.radius / tangent(cone.half_angle_rad) * cone.axis;
}

bool are_one(const PartFaces& part, const Candidate& a, const Candidate& b) {
  const Face& f = part.faces[a.face];
  const Face& g = part.faces[b.face];
  const double slack = std::max(slack_of(f), slack_of(g));
  if (!runs_along(f.surface, g.surface, b.extent, slack) ||
      !runs_along(g.surface, f.surface, a.extent, slack))
    return false;
  if (f.surface.kind == SurfaceKind::cone)
    return f.surface.axis.dot(g.surface.axis) > 0 &&
           (tip_of(f.surface) - tip_of(g.surface)).norm() <= 10 * slack;
  return std::abs(a.size - b.size) <= slack;
}

/// The candidates in sets of one axis and size, by joining all that are alike. Candidates come in
/// order of solid, side and size, so that only near ones are compared.
std::vector<std::vector<Candidate>> sets_of(const PartFaces& part,
                                            std::vector<Candidate> candidates) {
  std::vector<std::size_t> parent(candidates.size());
  std::iota(parent.begin(), parent.end(), std::size_t{0});
  const auto root = [&](std::size_t i) {
    while (parent[i] != i) i = parent[i] = parent[parent[i]];
    return i;
  };
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const Face& f = part.faces[candidates[i].face];
    for (std::size_t k = i + 1; k < candidates.size(); ++k) {
      const Face& g = part.faces[candidates[k].face];
      const double far = f.surface.kind == SurfaceKind::cone
                             ? tolerance::kSameDirection
                             : std::max(slack_of(f), tolerance::kSameFaces) * 4;
      if (f.solid != g.solid || f.hollow != g.hollow ||
          candidates[k].size - candidates[i].size > far)
        break;
      if (root(i) != root(k) && are_one(part, candidates[i], candidates[k]))
        parent[root(k)] = root(i);
    }
  }
  std::vector<std::vector<Candidate>> sets(candidates.size());
  for (std::size_t i = 0; i < candidates.size(); ++i) sets[root(i)].push_back(candidates[i]);
  sets.erase(std::remove_if(sets.begin(), sets.end(), [](const auto& set) { return set.empty(); }),
             sets.end());
  return sets;
}

/// Takes from a set what is one with its largest face, which is fitted best: where each face is one
/// with the next, the first and the last may be none.
std::vector<Candidate> take_one(const PartFaces& part, std::vector<Candidate>& set) {
  const Candidate largest =
      *std::max_element(set.begin(), set.end(), [&](const Candidate& a, const Candidate& b) {
        return part.faces[a.face].area < part.faces[b.face].area;
      });
  const auto rest = std::stable_partition(set.begin(), set.end(), [&](const Candidate& c) {
    return c.face == largest.face || are_one(part, largest, c);
  });
  std::vector<Candidate> taken(set.begin(), rest);
  set.erase(set.begin(), rest);
  std::iter_swap(taken.begin(), std::find_if(taken.begin(), taken.end(), [&](const Candidate& c) {
                   return c.face == largest.face;
                 }));
  return taken;
}

/// The wall that all faces of a set are pieces of, by the first.
RoundWall endless_wall(const PartFaces& part, const std::vector<Candidate>& set) {
  const Face& face = part.faces[set.front().face];
  RoundWall wall;
  wall.kind = face.surface.kind;
  const bool is_cone = wall.kind == SurfaceKind::cone;
  const Vec3 direction = is_cone ? face.surface.axis : upward(face.surface.axis);
  wall.axis = axis_along(face.surface.at, direction);
  wall.radius = face.surface.radius;
  wall.half_angle_rad = is_cone ? face.surface.half_angle_rad : 0;
  wall.hollow = face.hollow;
  for (const Candidate& c : set) wall.slack = std::max(wall.slack, slack_of(part.faces[c.face]));
  return wall;
}

/// Whether what lies beyond a tangent edge leads away from the axis: by the end of the face that
/// is farther from the wall.
bool leads_outward(const Face& beyond, const RoundWall& wall, double radius) {
  double nearest = std::numeric_limits<double>::infinity(), farthest = 0;
  for (const Loop& loop : beyond.loops)
    for (const Edge& edge : loop)
      for (const Vec3& p : edge.points) {
        nearest = std::min(nearest, wall.axis.off(p));
        farthest = std::max(farthest, wall.axis.off(p));
      }
  // A ball that closes a hole has no rim but the wall's.
  if (farthest - nearest <= wall.slack && beyond.surface.kind == SurfaceKind::sphere) return false;
  return farthest - radius >= radius - nearest;
}

WallEnd end_of(const PartFaces& part, const RoundWall& wall, const std::vector<RayEnd>& ends) {
  std::vector<std::size_t> outward, inward;
  double sum = 0;
  std::vector<std::pair<std::size_t, bool>> known;  // tangent faces, judged once
  const auto is_outward = [&](const RayEnd& end) {
    if (end.edge == nullptr) return false;  // a cone's tip
    if (!end.edge->beyond || end.edge->bend == EdgeBend::open) return true;
    if (end.edge->bend != EdgeBend::smooth) return end.edge->bend == EdgeBend::convex;
    const std::size_t face = *end.edge->beyond;
    for (const auto& [seen, verdict] : known)
      if (seen == face) return verdict;
    const double radius = wall.radius + end.height * tangent(wall.half_angle_rad);
    known.emplace_back(face, leads_outward(part.faces[face], wall, radius));
    return known.back().second;
  };
  std::size_t votes = 0;
  for (const RayEnd& end : ends) {
    sum += end.height;
    const bool is = is_outward(end);
    votes += is ? 1 : 0;
    if (end.edge != nullptr && end.edge->beyond)
      (is ? outward : inward).push_back(*end.edge->beyond);
  }
  WallEnd result;
  result.level = ends.empty() ? 0 : sum / static_cast<double>(ends.size());
  result.outward = 2 * votes >= ends.size();
  result.beyond = result.outward ? std::move(outward) : std::move(inward);
  std::sort(result.beyond.begin(), result.beyond.end());
  result.beyond.erase(std::unique(result.beyond.begin(), result.beyond.end()), result.beyond.end());
  return result;
}

RoundWall finished(const PartFaces& part, RoundWall wall, const RayRun& run) {
  wall.faces = run.faces;
  wall.share = run.share;
  wall.middle = Vec3::Zero();
  for (const std::size_t ray : run.rays) wall.middle += ray_direction(wall.axis, ray);
  const double length = wall.middle.norm();
  wall.middle = length > 1e-6 * static_cast<double>(run.rays.size()) ? Vec3(wall.middle / length)
                                                                     : Vec3(Vec3::Zero());
  wall.low = end_of(part, wall, run.low);
  wall.high = end_of(part, wall, run.high);
  return wall;
}

/// Adds the walls that faces of one axis and size are.
void add_walls(const PartFaces& part, const std::vector<Candidate>& set,
               std::vector<RoundWall>& walls) {
  const RoundWall endless = endless_wall(part, set);
  std::vector<std::size_t> faces;
  faces.reserve(set.size());
  for (const Candidate& c : set) faces.push_back(c.face);
  std::sort(faces.begin(), faces.end());
  std::optional<double> tip;
  if (endless.kind == SurfaceKind::cone) tip = -endless.radius / tangent(endless.half_angle_rad);
  for (const RayRun& run : runs_along_rays(part, faces, endless.axis, tip, endless.slack))
    walls.push_back(finished(part, endless, run));
}

}  // namespace

Axis axis_along(const Vec3& at, const Vec3& direction) {
  Axis axis;
  axis.at = at;
  axis.direction = direction;
  axis.first = any_perpendicular(direction);
  axis.second = direction.cross(axis.first);
  return axis;
}

Vec3 upward(const Vec3& direction) {
  for (const int i : {2, 1, 0}) {
    // A fitted axis is level as nearly as it is fitted.
    if (std::abs(direction[i]) > tolerance::kSameDirection)
      return direction[i] > 0 ? direction : Vec3(-direction);
  }
  return direction;
}

double slack_of(const Face& face) {
  return tolerance::kSameFaces + (face.fit ? tolerance::kFitSlack * face.fit->rms : 0);
}

std::vector<bool> usable_faces(const PartFaces& part) {
  std::vector<bool> usable(part.faces.size());
  for (std::size_t i = 0; i < part.faces.size(); ++i) {
    const Face& face = part.faces[i];
    bool is = is_sound(face.surface) && std::isfinite(face.area);
    for (const Loop& loop : face.loops)
      for (const Edge& edge : loop) {
        is = is && (!edge.beyond || *edge.beyond < part.faces.size());
        for (const Vec3& p : edge.points) is = is && p.allFinite();
      }
    usable[i] = is;
  }
  return usable;
}

std::vector<RoundWall> round_walls(const PartFaces& part, const std::vector<bool>& usable,
                                   SurfaceKind kind) {
  std::vector<Candidate> candidates;
  for (std::size_t i = 0; i < part.faces.size(); ++i) {
    const Face& face = part.faces[i];
    if (!usable[i] || face.surface.kind != kind || face.loops.empty()) continue;
    candidates.push_back(
        {i, extent_of(face),
         kind == SurfaceKind::cone ? face.surface.half_angle_rad : face.surface.radius});
  }
  std::sort(candidates.begin(), candidates.end(), [&](const Candidate& a, const Candidate& b) {
    const Face& f = part.faces[a.face];
    const Face& g = part.faces[b.face];
    if (f.solid != g.solid) return f.solid < g.solid;
    if (f.hollow != g.hollow) return f.hollow < g.hollow;
    if (a.size != b.size) return a.size < b.size;
    return a.face < b.face;
  });
  std::vector<RoundWall> walls;
  for (auto& set : sets_of(part, std::move(candidates)))
    while (!set.empty()) add_walls(part, take_one(part, set), walls);
  return walls;
}

}  // namespace standpoint
