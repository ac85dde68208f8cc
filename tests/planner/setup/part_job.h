#pragma once

#include <string>
#include <vector>

#include <Eigen/Geometry>

#include "planner/model/touch.h"
#include "planner/setup/held_row.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {

// A part with planes, holes, cylinders, a cone, a sphere and a slot beside a few nests, and
// readings of them from anywhere. Lengths mm.

[[nodiscard]] inline MadeScene part_job() {
  MadeScene scene = bare_scene();
  scene.full_targets = {ball_target("ball-38", 38.1), ball_target("ball-22", 22.225),
                        ball_target("ball-13", 12.7)};
  scene.offset_styli = {mirror_stylus("mirror-6")};
  const Vec3 x = Vec3::UnitX(), y = Vec3::UnitY(), z = Vec3::UnitZ();
  add_feature(scene, "top",
              PlaneFeature{{{0, 0, 400},
                            {900, 0, 400},
                            {900, 700, 400},
                            {0, 700, 400},
                            {450, 350, 400},
                            {200, 500, 400}},
                           z});
  add_feature(scene, "front",
              PlaneFeature{{{100, 0, 100}, {800, 0, 80}, {450, 0, 300}, {200, 0, 250}}, -y});
  add_feature(scene, "left", PlaneFeature{{{0, 100, 100}, {0, 600, 120}, {0, 300, 320}}, -x});
  add_feature(scene, "bore", CylinderFeature{{600, 400, 350}, z, 90, 100, true});
  add_feature(scene, "boss", CylinderFeature{{950, 300, 200}, x, 60, 90, false});
  add_feature(scene, "ball", SphereFeature{{150, 550, 450}, z, 45});
  add_feature(scene, "cone", ConeFeature{{300, 200, 430}, z, 70, 0.4, 50, false});
  add_feature(scene, "slot", SlotFeature{{400, 600, 400}, z, x, 60, 160, 60});
  add_feature(scene, "dowel-1", HoleFeature{{80, 80, 400}, z, 12, 30});
  add_feature(scene, "dowel-2", HoleFeature{{820, 620, 400}, z, 12, 30});
  add_nest(scene, "N1", {-1800, -900, 300});
  add_nest(scene, "N2", {2600, -1200, 500});
  add_nest(scene, "N3", {2400, 2300, 900});
  add_nest(scene, "N4", {-1500, 2100, 1400});
  return scene;
}

[[nodiscard]] inline TargetId target_named(const Scene& scene, const std::string& name) {
  for (const TargetId target : all_targets(scene))
    if (target_name(scene, target) == name) return target;
  ADD_FAILURE() << name;
  return TargetId(0);
}
[[nodiscard]] inline FeatureId feature_named(const Scene& scene, const std::string& name) {
  for (std::size_t i = 0; i < scene.features.size(); ++i)
    if (scene.features[i].name == name) return FeatureId(i);
  ADD_FAILURE() << name;
  return FeatureId(0);
}

/// An upright instrument beside the part, turned anyhow.
[[nodiscard]] inline Pose beside_part(Draw& draw) {
  Pose pose = Pose::Identity();
  pose.linear() = (Eigen::AngleAxisd(draw.between(-3, 3), Vec3::UnitZ()) *
                   Eigen::AngleAxisd(draw.between(-0.005, 0.005), Vec3::UnitX()))
                      .toRotationMatrix();
  pose.translation() = Vec3(draw.between(-2500, 2500), -3500, draw.between(1000, 1800));
  return pose;
}

/// Any pose at all, some metres off.
[[nodiscard]] inline Pose anywhere(Draw& draw) {
  Pose pose = Pose::Identity();
  pose.linear() = Eigen::AngleAxisd(draw.between(-3.1, 3.1), draw.direction()).toRotationMatrix();
  pose.translation() = draw.in_box(3000);
  return pose;
}

/// What an instrument at a pose reads, exactly.
class Reader {
 public:
  Reader(const Scene& scene, const Pose& world_from_instrument)
      : scene_(scene), instrument_from_world_(world_from_instrument.inverse()) {}

  void nests() {
    for (std::size_t i = 0; i < scene_.nests.size(); ++i) {
      SeenRow row;
      row.nest = NestId(i);
      row.at = instrument_from_world_ * scene_.nests[i].at;
      rows.push_back(row);
    }
  }

  /// The first `count` touches of a feature, all where there are fewer; told is one target, used
  /// another. On walls the ball's centre is its radius off the contact.
  void feature(const std::string& name, const std::string& told, const std::string& used,
               bool numbered = true, std::size_t count = 1000) {
    const FeatureId id = feature_named(scene_, name);
    const TargetId target = target_named(scene_, told);
    const TouchSet set = touch_sets(scene_, scene_.features[id.index], target).front();
    const double radius = touching_radius(scene_, target_named(scene_, used));
    for (std::size_t i = 0; i < std::min(count, set.touches.size()); ++i) {
      const Touch& touch = set.touches[i];
      SeenRow row;
      row.feature = id;
      if (numbered) row.touch = static_cast<std::uint32_t>(i);
      row.target = target;
      const bool is_rim = takes_whole_hole(set.way);
      row.at = instrument_from_world_ *
               (is_rim ? touch.optical_centre : Vec3(touch.at + radius * touch.normal));
      rows.push_back(row);
    }
  }

  std::vector<SeenRow> rows;

 private:
  const Scene& scene_;
  Pose instrument_from_world_;
};

/// An error as contract section 6 states it, along the beam and across it.
[[nodiscard]] inline Vec3 drawn_error(Draw& draw, const InstrumentError& error, const Vec3& at) {
  const double distance = at.norm();
  const auto sigma = [&](const ErrorTerm& term) {
    return (term.fixed + term.per_mm * distance) / error.coverage_factor;
  };
  const Vec3 beam = at / distance, across = any_perpendicular(beam), third = beam.cross(across);
  Vec3 sum = sigma(error.radial) * draw.normal() * beam;
  sum += sigma(error.transverse) * draw.normal() * across;
  sum += sigma(error.transverse) * draw.normal() * third;
  return sum;
}

inline void disturb(Draw& draw, const Scene& scene, std::vector<SeenRow>& rows) {
  for (SeenRow& row : rows) row.at += drawn_error(draw, scene.instrument.error, row.at);
}

}  // namespace standpoint::test
