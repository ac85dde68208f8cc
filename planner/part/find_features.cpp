#include "planner/part/find_features.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "geometry/trigonometry.h"
#include "planner/part/feature_names.h"
#include "planner/part/holes.h"
#include "planner/part/planes.h"
#include "planner/part/round_wall.h"
#include "planner/part/slots.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

bool any_taken(const std::vector<std::size_t>& faces, const std::vector<bool>& taken) {
  return std::any_of(faces.begin(), faces.end(), [&](std::size_t face) { return taken[face]; });
}

/// Whole rounds with air outside.
std::vector<FoundFeature> find_bosses(const PartFaces& part,
                                      const std::vector<RoundWall>& cylinders) {
  std::vector<FoundFeature> found;
  for (const RoundWall& wall : cylinders) {
    if (wall.hollow || wall.share < tolerance::kWholeRound) continue;
    FoundFeature boss;
    boss.kind = FoundKind::cylinder;
    boss.axis = wall.axis.direction;
    boss.diameter = 2 * wall.radius;
    boss.length = wall.high.level - wall.low.level;
    boss.centre = wall.axis.on((wall.low.level + wall.high.level) / 2);
    boss.faces = wall.faces;
    describe_faces(part, wall.faces, boss);
    found.push_back(std::move(boss));
  }
  return found;
}

/// Cones that are no step or end of a hole, and no chamfered edge.
std::vector<FoundFeature> find_cones(const PartFaces& part, const std::vector<RoundWall>& cones,
                                     const std::vector<bool>& taken) {
  std::vector<FoundFeature> found;
  for (const RoundWall& wall : cones) {
    if (wall.share < tolerance::kWholeRound || any_taken(wall.faces, taken)) continue;
    const double slope = tangent(wall.half_angle_rad);
    const double widest = 2 * (wall.radius + wall.high.level * slope);
    FoundFeature cone;
    cone.kind = FoundKind::cone;
    cone.hollow = wall.hollow;
    cone.length = wall.high.level - wall.low.level;
    if (cone.length <= tolerance::kChamferShare * widest * cosine(wall.half_angle_rad)) continue;
    const double middle = (wall.low.level + wall.high.level) / 2;
    cone.axis = -wall.axis.direction;  // toward where it narrows
    cone.centre = wall.axis.on(middle);
    cone.diameter = 2 * (wall.radius + middle * slope);
    cone.angle_rad = 2 * wall.half_angle_rad;
    cone.faces = wall.faces;
    describe_faces(part, wall.faces, cone);
    found.push_back(std::move(cone));
  }
  return found;
}

bool are_one_sphere(const Face& a, const Face& b) {
  const double slack = std::max(slack_of(a), slack_of(b));
  return a.solid == b.solid && a.hollow == b.hollow && b.surface.kind == SurfaceKind::sphere &&
         (a.surface.at - b.surface.at).norm() <= slack &&
         std::abs(a.surface.radius - b.surface.radius) <= slack;
}

/// Whether less than half of the length of the faces' rims is tangent to other faces.
bool has_edges(const PartFaces& part, const std::vector<std::size_t>& faces) {
  double tangent_length = 0, length = 0;
  for (const std::size_t face : faces)
    for (const Loop& loop : part.faces[face].loops)
      for (const Edge& edge : loop) {
        if (edge.beyond && std::binary_search(faces.begin(), faces.end(), *edge.beyond)) continue;
        for (std::size_t i = 1; i < edge.points.size(); ++i) {
          const double piece = (edge.points[i] - edge.points[i - 1]).norm();
          length += piece;
          tangent_length += edge.bend == EdgeBend::smooth ? piece : 0;
        }
      }
  return 2 * tangent_length < length;
}

/// Toward the middle of what there is of a sphere: away from its rims, which balance elsewhere.
Vec3 toward_middle(const PartFaces& part, const std::vector<std::size_t>& faces,
                   const Vec3& centre) {
  // The vector area of the faces is that of any skin over their rims (Stokes' theorem).
  Vec3 area = Vec3::Zero();
  for (const std::size_t face : faces)
    for (const Loop& loop : part.faces[face].loops)
      for (const Edge& edge : loop)
        for (std::size_t i = 1; i < edge.points.size(); ++i)
          area += (edge.points[i - 1] - centre).cross(edge.points[i] - centre) / 2;
  const double size = area.norm();
  const Vec3 out = size > 0 ? Vec3(area / size) : Vec3(Vec3::UnitZ());
  return part.faces[faces.front()].hollow ? Vec3(-out) : out;
}

std::vector<FoundFeature> find_spheres(const PartFaces& part, const std::vector<bool>& usable,
                                       const std::vector<bool>& taken) {
  std::vector<FoundFeature> found;
  std::vector<bool> seen(part.faces.size(), false);
  for (std::size_t i = 0; i < part.faces.size(); ++i) {
    const Face& face = part.faces[i];
    if (!usable[i] || taken[i] || seen[i] || face.surface.kind != SurfaceKind::sphere) continue;
    std::vector<std::size_t> faces;
    double area = 0;
    for (std::size_t k = i; k < part.faces.size(); ++k) {
      if (!usable[k] || taken[k] || seen[k] || !are_one_sphere(face, part.faces[k])) continue;
      seen[k] = true;
      faces.push_back(k);
      area += part.faces[k].area;
    }
    const double whole = 4 * std::numbers::pi * face.surface.radius * face.surface.radius;
    if (area < tolerance::kSphereShare * whole && !has_edges(part, faces)) continue;
    FoundFeature sphere;
    sphere.kind = FoundKind::sphere;
    sphere.hollow = face.hollow;
    sphere.centre = face.surface.at;
    sphere.diameter = 2 * face.surface.radius;
    sphere.toward = toward_middle(part, faces, face.surface.at);
    sphere.axis = sphere.toward;
    sphere.faces = faces;
    describe_faces(part, faces, sphere);
    found.push_back(std::move(sphere));
  }
  return found;
}

/// What is left of sums is noise, and differs with their order: places and lengths to a millionth
/// of a micrometre, directions by as little as shows nowhere.
void leave_out_noise(FoundFeature& f) {
  constexpr double kPerMm = 1e9, kPerUnit = 1e12;
  const auto clean = [](Vec3& v, double parts) {
    for (int i = 0; i < 3; ++i) v[i] = std::floor(v[i] * parts + 0.5) / parts + 0.0;
  };
  const auto clean_length = [](double& x) { x = std::floor(x * kPerMm + 0.5) / kPerMm; };
  clean(f.centre, kPerMm);
  for (Vec3* v : {&f.axis, &f.along, &f.toward}) clean(*v, kPerUnit);
  for (double* x : {&f.diameter, &f.depth, &f.length, &f.width, &f.countersink}) clean_length(*x);
  for (Vec3& p : f.points) clean(p, kPerMm);
  for (HoleStep& step : f.steps) {
    clean(step.centre, kPerMm);
    clean_length(step.diameter);
    clean_length(step.depth);
  }
}

/// The numbers in the file in place of the indices in the part.
void use_file_numbers(const PartFaces& part, std::vector<FoundFeature>& found) {
  for (FoundFeature& feature : found) {
    for (std::size_t& face : feature.faces) face = part.faces[face].number;
    std::sort(feature.faces.begin(), feature.faces.end());
    feature.faces.erase(std::unique(feature.faces.begin(), feature.faces.end()),
                        feature.faces.end());
  }
}

}  // namespace

std::vector<FoundFeature> find_features(const PartFaces& part, const FindOptions& options) {
  const std::vector<bool> usable = usable_faces(part);
  const auto cylinders = round_walls(part, usable, SurfaceKind::cylinder);
  std::vector<bool> taken(part.faces.size(), false);
  std::vector<Placed> all;
  const auto keep = [&](std::vector<FoundFeature> found) {
    for (FoundFeature& feature : found) {
      for (const std::size_t face : feature.faces) taken[face] = true;
      const Vec3 place = feature.centre;
      all.push_back({std::move(feature), place});
    }
  };
  keep(find_slots(part, cylinders, taken));
  keep(find_holes(part, cylinders, options, taken));
  keep(find_bosses(part, cylinders));
  keep(find_cones(part, round_walls(part, usable, SurfaceKind::cone), taken));
  keep(find_spheres(part, usable, taken));
  for (Placed& plane : find_planes(part, usable, taken)) all.push_back(std::move(plane));
  std::vector<FoundFeature> found = named(std::move(all));
  for (FoundFeature& feature : found) leave_out_noise(feature);
  use_file_numbers(part, found);
  return found;
}

}  // namespace standpoint
