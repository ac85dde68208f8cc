#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "geometry/vec.h"
#include "standpoint/cell.h"
#include "standpoint/scene.h"
#include "tests/draw.h"

namespace standpoint::test {

// Small scenes in memory. All lengths mm, all angles as the name says; every mesh is closed and its
// triangles are counter-clockwise seen from outside.

inline constexpr double kDeg = std::numbers::pi / 180;

// ---- meshes ----

inline void append(Mesh& mesh, const Mesh& other) {
  const auto offset = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.insert(mesh.vertices.end(), other.vertices.begin(), other.vertices.end());
  for (auto triangle : other.triangles) {
    for (auto& corner : triangle) corner += offset;
    mesh.triangles.push_back(triangle);
  }
}

/// The same surface with every triangle cut into four, `times` over.
[[nodiscard]] inline Mesh cut_up(Mesh mesh, std::size_t times) {
  for (; times > 0; --times) {
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> middles;
    const auto middle = [&](std::uint32_t a, std::uint32_t b) {
      const auto [known, is_new] = middles.try_emplace(std::minmax(a, b), 0);
      if (is_new) {
        known->second = static_cast<std::uint32_t>(mesh.vertices.size());
        mesh.vertices.emplace_back((mesh.vertices[a] + mesh.vertices[b]) / 2);
      }
      return known->second;
    };
    for (const auto [a, b, c] : std::exchange(mesh.triangles, {})) {
      const std::uint32_t ab = middle(a, b), bc = middle(b, c), ca = middle(c, a);
      for (const std::array<std::uint32_t, 3>& part :
           {std::array{a, ab, ca}, {b, bc, ab}, {c, ca, bc}, {ab, bc, ca}}) {
        mesh.triangles.push_back(part);
      }
    }
  }
  return mesh;
}

[[nodiscard]] inline Mesh moved(Mesh mesh, const Pose& pose) {
  for (Vec3& vertex : mesh.vertices) vertex = pose * vertex;
  return mesh;
}

/// The mesh between two rings of equally many points, `bottom` and `top`, closed by fans at both
/// ends. The rings run counter-clockwise seen from the top; they must be convex.
[[nodiscard]] inline Mesh prism(const std::vector<Vec3>& bottom, const std::vector<Vec3>& top) {
  Mesh mesh;
  const auto n = static_cast<std::uint32_t>(bottom.size());
  mesh.vertices = bottom;
  mesh.vertices.insert(mesh.vertices.end(), top.begin(), top.end());
  for (std::uint32_t i = 0; i < n; ++i) {
    const std::uint32_t j = (i + 1) % n;
    mesh.triangles.push_back({i, j, n + j});
    mesh.triangles.push_back({i, n + j, n + i});
  }
  for (std::uint32_t i = 1; i + 1 < n; ++i) {
    mesh.triangles.push_back({0, i + 1, i});
    mesh.triangles.push_back({n, n + i, n + i + 1});
  }
  return mesh;
}

/// Points of a regular polygon about `centre`, across the unit vector `axis`, counter-clockwise
/// seen against it; corners at `radius`.
[[nodiscard]] inline std::vector<Vec3> polygon(const Vec3& centre, const Vec3& axis, double radius,
                                               int sides) {
  const Vec3 x = any_perpendicular(axis), y = axis.cross(x);
  std::vector<Vec3> points;
  for (int i = 0; i < sides; ++i) {
    const double a = 2 * std::numbers::pi * i / sides;
    points.push_back(centre + radius * (std::cos(a) * x + std::sin(a) * y));
  }
  return points;
}

[[nodiscard]] inline Mesh box(const Vec3& low, const Vec3& high) {
  const auto ring = [&](double z) {
    return std::vector<Vec3>{{low.x(), low.y(), z},
                             {high.x(), low.y(), z},
                             {high.x(), high.y(), z},
                             {low.x(), high.y(), z}};
  };
  return prism(ring(low.z()), ring(high.z()));
}

/// A straight round bar between two points as a prism; its corners at diameter / 2. A wire where it
/// is thin.
[[nodiscard]] inline Mesh bar(const Vec3& from, const Vec3& to, double diameter, int sides = 6) {
  const Vec3 axis = (to - from).normalized();
  return prism(polygon(from, axis, diameter / 2, sides), polygon(to, axis, diameter / 2, sides));
}

/// An upright post of `sides` sides standing at (x, y).
[[nodiscard]] inline Mesh post(double x, double y, double foot, double top, double diameter,
                               int sides = 12) {
  return bar({x, y, foot}, {x, y, top}, diameter, sides);
}

/// A wall with a level foot and top, `thickness` across, its middle line from a to b.
[[nodiscard]] inline Mesh wall(const Vec2& a, const Vec2& b, double foot, double top,
                               double thickness) {
  const Vec2 along = (b - a).normalized();
  const Vec2 across = thickness / 2 * Vec2(-along.y(), along.x());
  const auto ring = [&](double z) {
    std::vector<Vec3> points;
    for (const Vec2& p : {Vec2(a - across), Vec2(b - across), Vec2(b + across), Vec2(a + across)}) {
      points.emplace_back(p.x(), p.y(), z);
    }
    return points;
  };
  return prism(ring(foot), ring(top));
}

/// A square block with one upright hole in the middle of its top.
struct DrilledBlock {
  Vec3 rim;               ///< middle of the hole's rim, in the plane of the top
  double half_width = 0;  ///< of the square
  double height = 0;
  double radius = 0;  ///< of the hole: the corners of its polygon lie on it
  double depth = 0;   ///< less than height: blind, with a flat floor; else through
  int sides = 64;     ///< of the hole, a multiple of 8
};

[[nodiscard]] inline Mesh drilled(const DrilledBlock& block) {
  Mesh mesh;
  const auto n = static_cast<std::uint32_t>(block.sides);
  const bool is_through = block.depth >= block.height;
  // Rings of n points each: rim, outer top, outer bottom, hole's end.
  const auto ring = [&](double down, bool is_square) {
    for (std::uint32_t i = 0; i < n; ++i) {
      const double a = 2 * std::numbers::pi * i / n;
      Vec3 out(std::cos(a), std::sin(a), 0);
      out *= is_square ? block.half_width / out.cwiseAbs().maxCoeff() : block.radius;
      mesh.vertices.push_back(block.rim + out - down * Vec3::UnitZ());
    }
  };
  ring(0, false);
  ring(0, true);
  ring(block.height, true);
  ring(is_through ? block.height : block.depth, false);
  const auto strip = [&](std::uint32_t a, std::uint32_t b) {
    for (std::uint32_t i = 0; i < n; ++i) {
      const std::uint32_t j = (i + 1) % n;
      mesh.triangles.push_back({a * n + i, b * n + i, b * n + j});
      mesh.triangles.push_back({a * n + i, b * n + j, a * n + j});
    }
  };
  strip(0, 1);
  strip(1, 2);
  strip(3, 0);
  if (is_through) {
    strip(2, 3);
    return mesh;
  }
  for (std::uint32_t i = 1; i + 1 < n; ++i) {
    mesh.triangles.push_back({3 * n, 3 * n + i, 3 * n + i + 1});
    mesh.triangles.push_back({2 * n, 2 * n + i + 1, 2 * n + i});
  }
  return mesh;
}

/// A plate that fills a rectangle in the plane x = const but for one rectangular window:
/// four boxes round it.
[[nodiscard]] inline Mesh window_wall(double x, double thickness, const Vec2& low, const Vec2& high,
                                      const Vec2& window_low, const Vec2& window_high) {
  Mesh mesh;
  const auto add = [&](double y0, double z0, double y1, double z1) {
    append(mesh, box({x - thickness / 2, y0, z0}, {x + thickness / 2, y1, z1}));
  };
  add(low.x(), low.y(), window_low.x(), high.y());
  add(window_high.x(), low.y(), high.x(), high.y());
  add(window_low.x(), low.y(), window_high.x(), window_low.y());
  add(window_low.x(), window_high.y(), window_high.x(), high.y());
  return mesh;
}

// ---- what a scene is made of; figures invented ----

[[nodiscard]] inline Instrument instrument() {
  Instrument made;
  made.name = "instrument";
  made.beam_diameter = 6;
  made.beam_growth_rad = 0.2e-3;
  made.range = {400, 40000};
  made.elevation_rad = {-60 * kDeg, 75 * kDeg};
  made.body_radius = 160;
  made.body_above = 180;
  made.body_below = 320;
  made.error = {2, {0.014, 0.0075e-3}, {0.012, 0.0009e-3}};
  return made;
}

[[nodiscard]] inline FullTarget ball_target(const std::string& name = "ball-38",
                                            double diameter = 38.1) {
  return {name, diameter / 2, 30 * kDeg, 42 * kDeg};
}

[[nodiscard]] inline MirrorStylus mirror_stylus(const std::string& name = "mirror-6") {
  MirrorStylus stylus;
  stylus.name = name;
  stylus.shank = {3, 2, 20};
  stylus.length = 85;
  stylus.head_radius = 23;
  stylus.swing_rad = 11 * kDeg;
  return stylus;
}

[[nodiscard]] inline TwoBallStylus two_ball_stylus(const std::string& name = "rod-2x") {
  TwoBallStylus stylus;
  stylus.name = name;
  stylus.shank = {3, 4, 20};
  stylus.ball_distances = {150, 350};
  stylus.ball_radius = 6.35;
  stylus.acceptance_rad = 30 * kDeg;
  return stylus;
}

/// A scene and the surfaces of its bodies, easily changed.
struct MadeScene : Scene {
  Meshes meshes;

  /// Puts another surface in a body's place.
  void reshape(BodyId body, Mesh mesh) {
    meshes[body.index] = std::make_shared<const Mesh>(std::move(mesh));
  }
};

/// The scene among its bodies.
[[nodiscard]] inline Cell cell_of(const MadeScene& scene) {
  return {scene, scene.meshes};
}

/// No body, target or feature yet; instrument() and the rules' defaults.
[[nodiscard]] inline MadeScene bare_scene(const std::string& name = "small") {
  MadeScene scene;
  scene.name = name;
  scene.units = "mm";
  scene.instrument = instrument();
  scene.rules.rim_contact_rad = {20 * kDeg, 75 * kDeg};
  return scene;
}

inline BodyId add_body(MadeScene& scene, const std::string& name, Mesh mesh,
                       BodyRole role = BodyRole::fixture) {
  scene.bodies.push_back({name, role});
  scene.meshes.push_back(std::make_shared<const Mesh>(std::move(mesh)));
  return BodyId(scene.bodies.size() - 1);
}

inline FeatureId add_feature(Scene& scene, const std::string& name, Shape shape) {
  Feature feature;
  feature.name = name;
  feature.shape = std::move(shape);
  scene.features.push_back(std::move(feature));
  return FeatureId(scene.features.size() - 1);
}

inline NestId add_nest(Scene& scene, const std::string& name, const Vec3& at,
                       const Vec3& normal = Vec3::UnitZ(), double seat_rad = 45 * kDeg) {
  scene.nests.push_back({name, at, normal, seat_rad});
  return NestId(scene.nests.size() - 1);
}

// ---- the whole scene moved ----

[[nodiscard]] inline Shape moved(const Shape& shape, const Pose& pose) {
  struct Mover {
    const Pose& pose;
    Shape operator()(PointFeature point) const {
      return PointFeature{pose * point.at, pose.linear() * point.normal};
    }
    Shape operator()(PlaneFeature plane) const {
      for (Vec3& point : plane.points) point = pose * point;
      plane.normal = pose.linear() * plane.normal;
      return plane;
    }
    Shape operator()(HoleFeature hole) const {
      hole.centre = pose * hole.centre;
      hole.axis = pose.linear() * hole.axis;
      return hole;
    }
    Shape operator()(CylinderFeature cylinder) const {
      cylinder.centre = pose * cylinder.centre;
      cylinder.axis = pose.linear() * cylinder.axis;
      return cylinder;
    }
    Shape operator()(SphereFeature sphere) const {
      sphere.centre = pose * sphere.centre;
      sphere.toward = pose.linear() * sphere.toward;
      return sphere;
    }
    Shape operator()(const LineFeature& line) const {
      return LineFeature{pose * line.from, pose * line.to, pose.linear() * line.normal};
    }
    Shape operator()(ConeFeature cone) const {
      cone.centre = pose * cone.centre;
      cone.axis = pose.linear() * cone.axis;
      return cone;
    }
    Shape operator()(SlotFeature slot) const {
      slot.centre = pose * slot.centre;
      slot.axis = pose.linear() * slot.axis;
      slot.along = pose.linear() * slot.along;
      return slot;
    }
    Shape operator()(SurfaceFeature surface) const {
      for (PointFeature& touch : surface.touches)
        touch = {pose * touch.at, pose.linear() * touch.normal};
      return surface;
    }
  };
  return std::visit(Mover{pose}, shape);
}

/// Bodies, features, nests, sites and fixed stations, moved; zones, walkways and surfaces are left
/// where they are. The pose must keep +Z up.
[[nodiscard]] inline MadeScene moved(MadeScene scene, const Pose& pose) {
  for (auto& mesh : scene.meshes) mesh = std::make_shared<const Mesh>(moved(*mesh, pose));
  for (Feature& feature : scene.features) feature.shape = moved(feature.shape, pose);
  for (auto* nests : {&scene.nests, &scene.nest_sites}) {
    for (Nest& nest : *nests) {
      nest.at = pose * nest.at;
      nest.normal = pose.linear() * nest.normal;
    }
  }
  for (FixedStation& station : scene.fixed_stations) station.at = pose * station.at;
  return scene;
}

}  // namespace standpoint::test
