#include "random_scene.h"
#include "geometry/vec.h"

#include <cmath>
#include <numbers>

namespace standpoint::test {
namespace {

constexpr double kHalf = 3000;  ///< most scenes lie within this of their middle, mm

void add_triangle(Mesh& mesh, const Vec3& a, const Vec3& b, const Vec3& c) {
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.insert(mesh.vertices.end(), {a, b, c});
  mesh.triangles.push_back({first, first + 1, first + 2});
}

void add_ordinary(Mesh& mesh, const Vec3& middle, Draw& draw) {
  const double size = draw.size(1, 1000);
  const Vec3 a = middle + draw.in_box(size), b = middle + draw.in_box(size);
  add_triangle(mesh, a, b, middle + draw.in_box(size));
}

void add_degenerate(Mesh& mesh, Draw& draw) {
  const Vec3 a = draw.in_box(kHalf);
  const Vec3 along = draw.size(0.1, 3000) * draw.direction();
  switch (draw.below(5)) {
    case 0:  // a point
      return add_triangle(mesh, a, a, a);
    case 1:  // a needle: two corners in one
      return add_triangle(mesh, a, a + along, a);
    case 2:  // a needle: the third corner between the others
      return add_triangle(mesh, a, a + along, a + draw.between(0, 1) * along);
    case 3:  // a needle: the third corner beyond
      return add_triangle(mesh, a, a + along, a + draw.between(1, 2) * along);
    default: {  // a sliver
      const Vec3 thin = draw.size(1e-9, 1e-3) * any_perpendicular(along.normalized());
      return add_triangle(mesh, a, a + along, a + draw.between(0, 1) * along + thin);
    }
  }
}

void add_of_kind(SceneKind kind, Mesh& mesh, std::size_t number, Draw& draw) {
  switch (kind) {
    case SceneKind::kDegenerate:
      return draw.chance(0.7) ? add_degenerate(mesh, draw)
                              : add_ordinary(mesh, draw.in_box(kHalf), draw);
    case SceneKind::kCoincident: {
      Draw again(number % 7);  // the same seven, over and over
      return add_ordinary(mesh, again.in_box(kHalf), again);
    }
    case SceneKind::kHugeBesideTiny: {
      const double size = draw.chance(0.1) ? 20000 : 0.1;
      const Vec3 middle = draw.in_box(size > 1 ? 10000 : kHalf);
      const Vec3 a = middle + draw.in_box(size), b = middle + draw.in_box(size);
      return add_triangle(mesh, a, b, middle + draw.in_box(size));
    }
    case SceneKind::kWires: {
      const Vec3 from = draw.in_box(kHalf);
      const Vec3 to = from + draw.size(10, 5000) * draw.direction();
      return add_wire(mesh, from, to, 0.2);
    }
    case SceneKind::kFarOff:
      return add_ordinary(mesh, Vec3(1e5, -1e5, 1e5) + draw.in_box(kHalf), draw);
    case SceneKind::kOneCentre: {
      // A box with the middle at the origin whatever its size: two corners opposite.
      const Vec3 a = draw.in_box(draw.size(1, kHalf));
      return add_triangle(mesh, a, -a, draw.between(-1, 1) * a);
    }
    case SceneKind::kFlat: {
      const double size = draw.size(1, 1000);
      const auto in_plane = [&](Vec3 v) { return Vec3(v.x(), v.y(), 250); };
      const Vec3 middle = in_plane(draw.in_box(kHalf));
      const Vec3 a = middle + draw.in_box(size), b = middle + draw.in_box(size);
      return add_triangle(mesh, in_plane(a), in_plane(b), in_plane(middle + draw.in_box(size)));
    }
    default:
      return add_ordinary(mesh, draw.in_box(kHalf), draw);
  }
}

const Mesh& some_mesh(const std::vector<Mesh>& scene, Draw& draw) {
  for (;;) {
    const Mesh& mesh = scene[draw.below(scene.size())];
    if (!mesh.triangles.empty()) return mesh;
  }
}

Vec3 on_triangle(const std::array<Vec3, 3>& t, Draw& draw) {
  double u = draw.between(0, 1), v = draw.between(0, 1);
  if (u + v > 1) {
    u = 1 - u;
    v = 1 - v;
  }
  return t[0] + u * (t[1] - t[0]) + v * (t[2] - t[0]);
}

/// A unit vector in the triangle's plane, or along what is left of it.
Vec3 along_triangle(const std::array<Vec3, 3>& t, Draw& draw) {
  const Vec3 v = draw.between(-1, 1) * (t[1] - t[0]) + draw.between(-1, 1) * (t[2] - t[0]);
  return v.norm() > 0 ? Vec3(v.normalized()) : draw.direction();
}

}  // namespace

std::string name_of(SceneKind kind) {
  constexpr const char* kNames[] = {"soup",  "degenerate", "coincident", "huge beside tiny",
                                    "wires", "far off",    "one centre", "flat",
                                    "few"};
  return kNames[static_cast<int>(kind)];
}

std::string name_of(BeamKind kind) {
  constexpr const char* kNames[] = {
      "anywhere",         "to a surface", "from a surface", "along a triangle", "along an edge",
      "through a corner", "ball",         "steep",          "along an axis",    "no width"};
  return kNames[static_cast<int>(kind)];
}

void add_wire(Mesh& mesh, const Vec3& from, const Vec3& to, double diameter, int sides) {
  const Vec3 axis = (to - from).normalized();
  const Vec3 across = any_perpendicular(axis), third = axis.cross(across);
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  const auto count = static_cast<std::uint32_t>(sides);
  for (const Vec3& end : {from, to}) {
    for (int i = 0; i < sides; ++i) {
      const double turn = 2 * std::numbers::pi * i / sides;
      mesh.vertices.push_back(end +
                              diameter / 2 * (std::cos(turn) * across + std::sin(turn) * third));
    }
  }
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t j = (i + 1) % count;
    mesh.triangles.push_back({first + i, first + j, first + count + i});
    mesh.triangles.push_back({first + j, first + count + j, first + count + i});
  }
  for (std::uint32_t i = 1; i + 1 < count; ++i) {
    mesh.triangles.push_back({first, first + i + 1, first + i});
    mesh.triangles.push_back({first + count, first + count + i, first + count + i + 1});
  }
}

std::vector<Mesh> make_scene(SceneKind kind, std::size_t most, Draw& draw) {
  const std::size_t bodies = 1 + draw.below(3);
  std::vector<Mesh> scene(bodies);
  const std::size_t wanted =
      kind == SceneKind::kFew ? 1 + draw.below(9) : 40 + draw.below(most - 39);
  std::size_t have = 0;
  for (std::size_t number = 0; have < wanted; ++number) {
    Mesh& mesh = scene[number % bodies];
    const std::size_t before = mesh.triangles.size();
    add_of_kind(kind, mesh, number, draw);
    have += mesh.triangles.size() - before;
  }
  return scene;
}

RoundCone make_beam(BeamKind kind, const std::vector<Mesh>& scene, Draw& draw) {
  const Mesh& mesh = some_mesh(scene, draw);
  const auto t = mesh.corners(draw.below(mesh.triangles.size()));
  const Vec3 near = on_triangle(t, draw);
  const double radius = draw.size(0.1, 30);
  // A beam's own growth, or one that narrows.
  const double growth = draw.between(-2e-4, 4e-4);
  const double length = draw.size(10, 8000);
  const auto beam = [&](const Vec3& start, const Vec3& end) {
    const double change = growth * (end - start).norm();
    return RoundCone{start, end, radius, std::max(0.0, radius + change)};
  };
  switch (kind) {
    case BeamKind::kToSurface:
      return beam(near + length * draw.direction(), near + draw.size(0.1, 40) * draw.direction());
    case BeamKind::kFromSurface:
      return beam(near, near + length * draw.direction());
    case BeamKind::kAlongTriangle: {
      const Vec3 along = along_triangle(t, draw);
      const Vec3 start = near - draw.between(0, 1) * length * along +
                         radius * draw.between(0, 2) * draw.direction();
      return beam(start, start + length * along);
    }
    case BeamKind::kAlongEdge: {
      const Vec3 e = t[1] - t[0];
      const Vec3 along = e.norm() > 0 ? Vec3(e.normalized()) : draw.direction();
      const Vec3 aside = any_perpendicular(along) * radius * (1 + draw.between(-1e-3, 1e-3));
      const Vec3 start = t[0] + aside - draw.between(-1, 1) * length * along;
      return beam(start, start + length * along);
    }
    case BeamKind::kThroughCorner: {
      const Vec3 along = draw.direction();
      const double before = draw.between(0, 1) * length;
      return beam(t[0] - before * along, t[0] + (length - before) * along);
    }
    case BeamKind::kBall:
      return RoundCone::ball(near + draw.size(0.01, 3000) * draw.direction(), radius);
    case BeamKind::kSteep: {
      const double slope = draw.between(0.5, 0.9999);
      const Vec3 start = near + draw.size(0.1, 2000) * draw.direction();
      const RoundCone cone{start, start + length * draw.direction(), 0, slope * length};
      return draw.chance(0.5) ? cone : RoundCone{cone.end, cone.start, cone.end_radius, 0};
    }
    case BeamKind::kAlongAxis: {
      const Vec3 along = Vec3::Unit(static_cast<Eigen::Index>(draw.below(3)));
      const Vec3 start = near + draw.size(0.01, 30) * draw.direction();
      return beam(start, start + (draw.chance(0.5) ? length : -length) * along);
    }
    case BeamKind::kNoWidth: {
      const Vec3 start = near + length * draw.direction();
      return RoundCone::capsule(start, near + draw.between(-1, 1) * (near - start), 0);
    }
    default: {
      const Vec3 start = near + draw.in_box(kHalf);
      return beam(start, near + draw.in_box(kHalf));
    }
  }
}

std::vector<const Mesh*> pointers(const std::vector<Mesh>& meshes) {
  std::vector<const Mesh*> result;
  for (const Mesh& mesh : meshes) result.push_back(&mesh);
  return result;
}

}  // namespace standpoint::test
