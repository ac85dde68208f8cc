#include "planner/part/slots.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "planner/part/holes.h"
#include "planner/part/step_links.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

/// One end of a slot, with the planes that run off it.
struct HalfRound {
  const RoundWall* wall = nullptr;
  std::vector<std::size_t> sides;
};

/// The planes beside a half round that are tangent to it.
std::vector<std::size_t> tangent_planes(const PartFaces& part, const RoundWall& wall) {
  std::vector<std::size_t> sides;
  for (const std::size_t face : wall.faces)
    for (const Loop& loop : part.faces[face].loops)
      for (const Edge& edge : loop) {
        if (!edge.beyond) continue;
        const Surface& s = part.faces[*edge.beyond].surface;
        if (s.kind != SurfaceKind::plane) continue;
        // A side that is fitted to few corners may be off by what the mesh cuts of the round.
        const double slack = 2 * wall.slack + (part.faces[*edge.beyond].fit ? part.chord : 0);
        const double lean = std::abs(s.axis.dot(wall.axis.direction));
        if (lean > tolerance::kSameDirection &&
            (!part.faces[*edge.beyond].fit || lean * (wall.high.level - wall.low.level) > slack))
          continue;
        // The normal points out of the material, so toward the axis.
        const Vec3 middle = wall.axis.on((wall.low.level + wall.high.level) / 2);
        const double off = s.axis.dot(middle - s.at);
        if (std::abs(off - wall.radius) <= slack) sides.push_back(*edge.beyond);
      }
  std::sort(sides.begin(), sides.end());
  sides.erase(std::unique(sides.begin(), sides.end()), sides.end());
  return sides;
}

bool are_coplanar(const Surface& a, const Surface& b, double slack) {
  return a.axis.dot(b.axis) > 0 && a.axis.cross(b.axis).norm() <= tolerance::kSameDirection &&
         std::abs(a.axis.dot(b.at - a.at)) <= 2 * slack;
}

/// The planes that the two have in common, where there are some on both sides; else none.
std::vector<std::size_t> common_sides(const PartFaces& part, const HalfRound& a,
                                      const HalfRound& b) {
  const double slack = std::max(a.wall->slack, b.wall->slack);
  std::vector<std::size_t> common;
  bool one = false, other = false;
  for (const std::size_t p : a.sides)
    for (const std::size_t q : b.sides) {
      const Surface& s = part.faces[p].surface;
      if (!are_coplanar(s, part.faces[q].surface, slack)) continue;
      common.push_back(p);
      common.push_back(q);
      const bool same = s.axis.dot(part.faces[common.front()].surface.axis) > 0;
      (same ? one : other) = true;
    }
  if (!one || !other) common.clear();
  return common;
}

/// Whether two half rounds of one radius turn their backs on each other over some height.
bool face_each_other(const RoundWall& a, const RoundWall& b) {
  const double slack = std::max(a.slack, b.slack);
  if (std::abs(a.axis.direction.dot(b.axis.direction)) < 1 - tolerance::kSameDirection ||
      std::abs(a.radius - b.radius) > slack)
    return false;
  const Vec3 off = a.axis.at - b.axis.at;
  const Vec3 apart = off - a.axis.direction * a.axis.direction.dot(off);
  const double distance = apart.norm();
  constexpr double kStraight = 0.98;  // cosine of what a notch in one end may turn it by
  if (!(distance > slack) || a.middle.dot(apart) < kStraight * distance ||
      -b.middle.dot(apart) < kStraight * distance)
    return false;
  const double b_low = a.axis.height(b.axis.on(b.low.level));
  const double b_high = a.axis.height(b.axis.on(b.high.level));
  return std::min(a.high.level, std::max(b_low, b_high)) -
             std::max(a.low.level, std::min(b_low, b_high)) >
         slack;
}

/// The bottom of a slot and the rounds on it: its own faces too.
void add_bottom(const PartFaces& part, const RoundWall& wall, const WallEnd& end,
                std::vector<std::size_t>& faces) {
  if (end.outward) return;
  for (const std::size_t face : end.beyond)
    if (is_about(part.faces[face], wall.axis, wall.slack)) faces.push_back(face);
}

FoundFeature slot_of(const PartFaces& part, const RoundWall& a, const RoundWall& b,
                     std::vector<std::size_t> sides) {
  const bool alike = a.axis.direction.dot(b.axis.direction) > 0;
  const WallEnd& b_low = alike ? b.low : b.high;
  const WallEnd& b_high = alike ? b.high : b.low;
  const double low = (a.low.level + a.axis.height(b.axis.on(b_low.level))) / 2;
  const double high = (a.high.level + a.axis.height(b.axis.on(b_high.level))) / 2;
  const bool opens_low = a.low.outward && b_low.outward;
  const bool opens_high = a.high.outward && b_high.outward;
  FoundFeature slot;
  slot.kind = FoundKind::slot;
  slot.hollow = true;
  slot.through = opens_low && opens_high;
  const bool from_high = opens_high || !opens_low;
  slot.axis = (from_high ? 1 : -1) * a.axis.direction;
  const Vec3 there = b.axis.at + b.axis.direction * b.axis.direction.dot(a.axis.at - b.axis.at);
  slot.centre = (a.axis.at + there) / 2 + (from_high ? high : low) * a.axis.direction;
  slot.depth = high - low;
  slot.width = a.radius + b.radius;
  slot.length = (there - a.axis.at).norm() + slot.width;
  slot.along = upward((there - a.axis.at).normalized());
  slot.faces = std::move(sides);
  slot.faces.insert(slot.faces.end(), a.faces.begin(), a.faces.end());
  slot.faces.insert(slot.faces.end(), b.faces.begin(), b.faces.end());
  describe_faces(part, slot.faces, slot);
  for (const RoundWall* wall : {&a, &b})
    for (const WallEnd* end : {&wall->low, &wall->high}) add_bottom(part, *wall, *end, slot.faces);
  return slot;
}

bool opens(const RoundWall& wall) {
  return wall.low.outward || wall.high.outward;
}

}  // namespace

std::vector<FoundFeature> find_slots(const PartFaces& part, const std::vector<RoundWall>& cylinders,
                                     std::vector<bool>& taken) {
  std::vector<HalfRound> halves;
  for (const RoundWall& wall : cylinders) {
    if (!wall.hollow || std::abs(wall.share - 0.5) > tolerance::kSlotEnd || !opens(wall)) continue;
    HalfRound half{&wall, tangent_planes(part, wall)};
    if (half.sides.size() >= 2) halves.push_back(std::move(half));
  }
  struct Pair {
    std::size_t a, b;
    double apart;
    std::vector<std::size_t> sides;
  };
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < halves.size(); ++i)
    for (std::size_t k = i + 1; k < halves.size(); ++k) {
      const RoundWall& a = *halves[i].wall;
      const RoundWall& b = *halves[k].wall;
      if (part.faces[a.faces.front()].solid != part.faces[b.faces.front()].solid ||
          !face_each_other(a, b))
        continue;
      auto sides = common_sides(part, halves[i], halves[k]);
      if (!sides.empty()) pairs.push_back({i, k, a.axis.off(b.axis.at), std::move(sides)});
    }
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const Pair& p, const Pair& q) { return p.apart < q.apart; });
  std::vector<bool> paired(halves.size(), false);
  std::vector<FoundFeature> found;
  for (Pair& pair : pairs) {
    if (paired[pair.a] || paired[pair.b]) continue;
    paired[pair.a] = paired[pair.b] = true;
    found.push_back(
        slot_of(part, *halves[pair.a].wall, *halves[pair.b].wall, std::move(pair.sides)));
    for (const std::size_t face : found.back().faces) taken[face] = true;
  }
  return found;
}

}  // namespace standpoint
