#include "io/read/bodies/plain_shapes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/trigonometry.h"
#include "io/read/bodies/placed_body.h"

namespace standpoint {
namespace {

constexpr std::uint32_t kLeastSides = 12, kMostSides = 720;

/// Adds a flat face as two triangles; corners counter-clockwise as seen from outside.
void add_quad(Mesh& mesh, std::array<std::uint32_t, 4> corners, std::uint32_t face) {
  mesh.triangles.push_back({corners[0], corners[1], corners[2]});
  mesh.triangles.push_back({corners[0], corners[2], corners[3]});
  mesh.face_of_triangle.insert(mesh.face_of_triangle.end(), 2, face);
}

Mesh block(const Vec3& low, const Vec3& high) {
  Mesh mesh;
  // Corner number: bit 0 for x, bit 1 for y, bit 2 for z.
  for (unsigned i = 0; i < 8; ++i) {
    mesh.vertices.emplace_back((i & 1U) != 0 ? high.x() : low.x(),
                               (i & 2U) != 0 ? high.y() : low.y(),
                               (i & 4U) != 0 ? high.z() : low.z());
  }
  mesh.face_names = {"bottom", "top", "side -x", "side +x", "side -y", "side +y"};
  add_quad(mesh, {0, 2, 3, 1}, 0);
  add_quad(mesh, {4, 5, 7, 6}, 1);
  add_quad(mesh, {0, 4, 6, 2}, 2);
  add_quad(mesh, {1, 3, 7, 5}, 3);
  add_quad(mesh, {0, 1, 5, 4}, 4);
  add_quad(mesh, {2, 6, 7, 3}, 5);
  return mesh;
}

/// The least number of sides, a multiple of 4, whose corners stand no farther than `outside` beyond
/// the circle that they go round: radius / cos(pi / n) - radius <= outside.
std::uint32_t sides_for(double radius, double outside) {
  std::uint32_t sides = kLeastSides;
  while (sides < kMostSides && radius / cosine(std::numbers::pi / sides) - radius > outside)
    sides += 4;
  return sides;
}

Mesh prism(double radius, double height, double outside) {
  const std::uint32_t n = sides_for(radius, outside);
  const double corner_radius = radius / cosine(std::numbers::pi / n);
  Mesh mesh;
  mesh.face_names = {"bottom", "top", "wall"};
  for (const double z : {0.0, height}) {
    for (std::uint32_t i = 0; i < n; ++i) {
      // Half a step on, so that the middle of a side faces each axis.
      const double turn = (i + 0.5) * (2 * std::numbers::pi / n);
      mesh.vertices.emplace_back(corner_radius * cosine(turn), corner_radius * sine(turn), z);
    }
  }
  mesh.vertices.emplace_back(0, 0, 0);
  mesh.vertices.emplace_back(0, 0, height);
  for (std::uint32_t i = 0; i < n; ++i) {
    const std::uint32_t next = (i + 1) % n;
    mesh.triangles.push_back({2 * n, next, i});
    mesh.face_of_triangle.push_back(0);
    mesh.triangles.push_back({2 * n + 1, n + i, n + next});
    mesh.face_of_triangle.push_back(1);
    add_quad(mesh, {i, next, n + next, n + i}, 2);
  }
  return mesh;
}

struct Made {
  const char* format;
  Mesh mesh;
};

struct Make {
  double mm_per_unit, chord_tolerance;

  Made operator()(const PlainBox& box) const {
    const Vec3 half(box.size.x() / 2, box.size.y() / 2, 0);
    return {"box", block(-half, half + Vec3(0, 0, box.size.z()))};
  }
  Made operator()(const PlainCylinder& cylinder) const {
    return {"cylinder",
            prism(cylinder.diameter / 2, cylinder.height, chord_tolerance / mm_per_unit)};
  }
  Made operator()(const PlainFloor& floor) const {
    const Vec3 half(floor.size.x() / 2, floor.size.y() / 2, 0);
    return {"floor", block(-half - Vec3(0, 0, kFloorThicknessMm / mm_per_unit), half)};
  }
};

}  // namespace

ReadBody plain_body(const PlainShape& shape, double mm_per_unit, double chord_tolerance,
                    const Pose& world_from_body) {
  Made made = std::visit(Make{mm_per_unit, chord_tolerance}, shape);
  ReadBody body;
  body.mesh = std::move(made.mesh);
  body.placement = {world_from_body.linear(), world_from_body.translation(), mm_per_unit};
  body.report.format = made.format;
  body.report.mm_per_unit = mm_per_unit;
  body.report.unit_source = "scene";
  body.report.stated_mm_per_unit = mm_per_unit;
  place_vertices(body);
  return body;
}

}  // namespace standpoint
