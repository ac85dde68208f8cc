#include "planner/part/planes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "planner/part/holes.h"
#include "planner/part/plane_points.h"
#include "planner/part/round_wall.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

bool are_one(const Face& a, const Face& b) {
  const double slack = std::max(slack_of(a), slack_of(b));
  return b.surface.kind == SurfaceKind::plane && a.surface.axis.dot(b.surface.axis) > 0 &&
         a.surface.axis.cross(b.surface.axis).norm() <= tolerance::kSameDirection &&
         std::abs(a.surface.axis.dot(b.surface.at - a.surface.at)) <= slack;
}

/// `first` and all faces of its plane that are joined to it edge to edge, ascending.
std::vector<std::size_t> joined_faces(const PartFaces& part, const std::vector<bool>& usable,
                                      const std::vector<bool>& taken, std::size_t first,
                                      std::vector<bool>& seen) {
  std::vector<std::size_t> faces = {first};
  seen[first] = true;
  for (std::size_t i = 0; i < faces.size(); ++i)
    for (const Loop& loop : part.faces[faces[i]].loops)
      for (const Edge& edge : loop) {
        if (!edge.beyond || seen[*edge.beyond] || taken[*edge.beyond] || !usable[*edge.beyond] ||
            edge.bend != EdgeBend::smooth || !are_one(part.faces[first], part.faces[*edge.beyond]))
          continue;
        seen[*edge.beyond] = true;
        faces.push_back(*edge.beyond);
      }
  std::sort(faces.begin(), faces.end());
  return faces;
}

std::vector<std::vector<Vec3>> rims_of(const PartFaces& part,
                                       const std::vector<std::size_t>& faces) {
  std::vector<std::vector<Vec3>> rims;
  for (const std::size_t face : faces)
    for (const Loop& loop : part.faces[face].loops) {
      std::vector<Vec3> rim;
      for (const Edge& edge : loop) rim.insert(rim.end(), edge.points.begin(), edge.points.end());
      // An edge between joined faces stands in both: it counts twice, which is not at all.
      if (rim.size() >= 3) rims.push_back(std::move(rim));
    }
  return rims;
}

/// The middle of the area that rims enclose: by Green's theorem, so that the order does not matter.
Vec3 middle_of(const Surface& plane, const std::vector<std::vector<Vec3>>& rims) {
  double area = 0;
  Vec3 sum = Vec3::Zero();
  for (const auto& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec3 a = rim[i] - plane.at, b = rim[(i + 1) % rim.size()] - plane.at;
      const double twice = plane.axis.dot(a.cross(b));
      area += twice;
      sum += twice * (a + b) / 3;
    }
  return area != 0 ? Vec3(plane.at + sum / area) : plane.at;
}

}  // namespace

std::vector<Placed> find_planes(const PartFaces& part, const std::vector<bool>& usable,
                                const std::vector<bool>& taken) {
  std::vector<Placed> found;
  std::vector<bool> seen(part.faces.size(), false);
  for (std::size_t i = 0; i < part.faces.size(); ++i) {
    if (!usable[i] || taken[i] || seen[i] || part.faces[i].surface.kind != SurfaceKind::plane)
      continue;
    Placed placed;
    FoundFeature& plane = placed.feature;
    plane.kind = FoundKind::plane;
    plane.faces = joined_faces(part, usable, taken, i, seen);
    const auto largest =
        *std::max_element(plane.faces.begin(), plane.faces.end(),
                          [&](auto a, auto b) { return part.faces[a].area < part.faces[b].area; });
    const Surface& surface = part.faces[largest].surface;
    const auto rims = rims_of(part, plane.faces);
    plane.axis = surface.axis;
    plane.points = points_inside(surface, rims);
    if (plane.points.size() < 3) continue;
    placed.place = middle_of(surface, rims);
    plane.centre = *std::min_element(
        plane.points.begin(), plane.points.end(), [&](const Vec3& a, const Vec3& b) {
          return (a - placed.place).squaredNorm() < (b - placed.place).squaredNorm();
        });
    describe_faces(part, plane.faces, plane);
    found.push_back(std::move(placed));
  }
  return found;
}

}  // namespace standpoint
