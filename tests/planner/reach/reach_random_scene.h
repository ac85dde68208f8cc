#pragma once

#include "tests/planner/scene_builder.h"

namespace standpoint::test {

/// What a random scene may hold: the searches over directions cost most.
struct RandomSceneKind {
  double two_ball_chance = 0.5;
  std::size_t most_clutter = 6;
};

/// A part some 500 across with features of every type, styli and balls, and things that stand
/// about it: boxes, posts, walls and wires, some of them in the way of everything.
[[nodiscard]] inline MadeScene random_scene(Draw& draw, const RandomSceneKind& kind = {}) {
  MadeScene scene = bare_scene("random");
  scene.rules.min_margin = draw.chance(0.3) ? draw.between(0, 5) : 0;
  scene.instrument.beam_diameter = draw.between(0.5, 8);
  scene.full_targets.push_back(ball_target());
  if (draw.chance(0.4)) scene.full_targets.push_back(ball_target("ball-12", 12.7));
  if (draw.chance(0.8)) {
    MirrorStylus mirror = mirror_stylus();
    mirror.swing_rad = draw.between(0, 25) * kDeg;
    mirror.head_radius = draw.between(2, 30);
    if (draw.chance(0.3)) mirror.shank = {0, 2, 20};
    scene.offset_styli.emplace_back(mirror);
  }
  if (draw.chance(kind.two_ball_chance)) {
    TwoBallStylus rod = two_ball_stylus();
    rod.acceptance_rad = draw.between(5, 60) * kDeg;
    if (draw.chance(0.3)) rod.shank = {3, 2, 20};
    scene.offset_styli.emplace_back(rod);
  }

  // The part: a block with a hole in its top, a boss beside the hole.
  const double holes[] = {2.5, 8, 14, 45};
  const double radius = holes[draw.below(4)];
  const double depth = draw.between(5, 150);
  add_body(scene, "block", drilled({Vec3::Zero(), 250, 160, radius, depth, 32}), BodyRole::part);
  add_body(scene, "boss", bar({150, 120, 0}, {150, 120, 90}, 70, 32), BodyRole::part);
  const auto on_top = [&] { return draw.in_box({-240, -240, 0}, {240, -60, 0}); };
  add_feature(scene, "pad", PointFeature{on_top(), Vec3::UnitZ()});
  add_feature(scene, "side", PointFeature{{250, draw.between(-200, 200), -60}, Vec3::UnitX()});
  add_feature(scene, "top", PlaneFeature{{on_top(), on_top(), on_top(), on_top()}, Vec3::UnitZ()});
  add_feature(scene, "hole", HoleFeature{Vec3::Zero(), Vec3::UnitZ(), radius, depth});
  add_feature(scene, "bore",
              CylinderFeature{{0, 0, -depth / 2}, Vec3::UnitZ(), radius, depth, true});
  add_feature(scene, "boss", CylinderFeature{{150, 120, 45}, Vec3::UnitZ(), 35, 90, false});
  add_feature(scene, "free ball",
              SphereFeature{draw.in_box({-200, 0, 60}, {-60, 200, 120}), draw.direction(), 30});
  add_feature(scene, "edge", LineFeature{{-230, -180, 0}, {230, -120, 0}, Vec3::UnitZ()});
  // The boss and the hole stand in for a cone and a slot: touches in the material and off it too.
  add_feature(scene, "taper",
              ConeFeature{{150, 120, 60}, Vec3::UnitZ(), 34, 6 * kDeg, 50, radius > 10});
  add_feature(
      scene, "keyway",
      SlotFeature{Vec3::Zero(), Vec3::UnitZ(), Vec3::UnitX(), 1.2 * radius, 1.9 * radius, depth});
  SurfaceFeature skin;
  for (const double x : {-200.0, -80.0, 40.0, 160.0})
    skin.touches.push_back({{x, -150, 0}, Vec3::UnitZ()});
  skin.touches.push_back({{250, 60, -60}, Vec3::UnitX()});
  skin.share = 0.6;
  add_feature(scene, "skin", skin);
  add_nest(scene, "N1", draw.in_box({-300, -300, 30}, {300, 300, 200}), draw.direction());
  add_nest(scene, "N2", draw.in_box({300, -400, -100}, {500, 400, 100}));

  const std::size_t clutter = draw.below(kind.most_clutter + 1);
  for (std::size_t i = 0; i < clutter; ++i) {
    const Vec3 at = draw.in_box({-900, -900, -200}, {900, 900, 700});
    const std::string name = "clutter-" + std::to_string(i);
    switch (draw.below(4)) {
      case 0:
        add_body(scene, name, box(at, at + draw.in_box(Vec3::Constant(5), Vec3::Constant(500))));
        break;
      case 1:
        add_body(scene, name, post(at.x(), at.y(), -200, draw.between(100, 1500), 80, 8));
        break;
      case 2:
        add_body(scene, name, bar(at, at + 700 * draw.direction(), 0.2, 3));
        break;
      default: {
        const Vec3 to = at + 600 * draw.direction();
        add_body(scene, name, wall(at.head<2>(), to.head<2>(), at.z() - 200, at.z() + 300, 12));
      }
    }
  }
  return scene;
}

/// 450 to 3500 from the part, at any side, mostly above it.
[[nodiscard]] inline Vec3 random_station(Draw& draw) {
  Vec3 direction = draw.direction();
  if (draw.chance(0.8)) direction.z() = std::abs(direction.z());
  return draw.between(450, 3500) * direction;
}

}  // namespace standpoint::test
