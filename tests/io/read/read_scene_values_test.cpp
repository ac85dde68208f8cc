// What a scene's values become inside: mm, rad, unit vectors. Expected values are worked out by
// hand from contract section 2; a few come from the defaults stated there.

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

using scene_samples::full_scene;
using scene_samples::Json;
using scene_samples::least_scene;
using scene_samples::listed;
using scene_samples::parse;

constexpr double kDeg = std::numbers::pi / 180;

void expect_near(const Vec3& value, const Vec3& expected, double within) {
  EXPECT_LT((value - expected).norm(), within)
      << value.transpose() << " instead of " << expected.transpose();
}

Scene scene_of(const Json& json) {
  auto result = parse(json);
  EXPECT_TRUE(result.has_value()) << listed(result);
  return std::move(result.value().scene);  // throws, and so fails the test, where there is none
}

TEST(ReadSceneValues, HeadingAndInstrument) {
  const Scene scene = scene_of(full_scene());
  EXPECT_EQ(scene.name, "all keys");
  EXPECT_EQ(scene.units, "mm");
  EXPECT_EQ(scene.mm_per_unit, 1);
  EXPECT_EQ(scene.chord_tolerance, 0.05);
  const Instrument& instrument = scene.instrument;
  EXPECT_EQ(instrument.name, "invented instrument");
  EXPECT_EQ(instrument.beam_diameter, 6);
  EXPECT_DOUBLE_EQ(instrument.beam_growth_rad, 0.0002);
  EXPECT_EQ(instrument.range.low, 400);
  EXPECT_EQ(instrument.range.high, 40000);
  EXPECT_DOUBLE_EQ(instrument.elevation_rad.low, -60 * kDeg);
  EXPECT_DOUBLE_EQ(instrument.elevation_rad.high, 75 * kDeg);
  EXPECT_EQ(instrument.body_radius, 160);
  EXPECT_EQ(instrument.body_above, 180);
  EXPECT_EQ(instrument.body_below, 320);
  EXPECT_EQ(instrument.error.coverage_factor, 3);
  EXPECT_EQ(instrument.error.transverse.fixed, 0.014);
  EXPECT_DOUBLE_EQ(instrument.error.transverse.per_mm, 7.5e-6);
  EXPECT_EQ(instrument.error.radial.fixed, 0.012);
  EXPECT_DOUBLE_EQ(instrument.error.radial.per_mm, 9e-7);
}

TEST(ReadSceneValues, Targets) {
  const Scene scene = scene_of(full_scene());
  ASSERT_EQ(scene.full_targets.size(), 2u);
  EXPECT_EQ(scene.full_targets[0].name, "ball-38");
  EXPECT_EQ(scene.full_targets[0].radius, 19);
  EXPECT_DOUBLE_EQ(scene.full_targets[0].acceptance_rad, 30 * kDeg);
  EXPECT_DOUBLE_EQ(scene.full_targets[0].aperture_rad, 42 * kDeg);
  ASSERT_EQ(scene.offset_styli.size(), 2u);
  const auto& mirror = std::get<MirrorStylus>(scene.offset_styli[0]);
  EXPECT_EQ(mirror.name, "mirror-6");
  EXPECT_EQ(mirror.shank.tip_radius, 3);
  EXPECT_EQ(mirror.shank.radius, 5);
  EXPECT_EQ(mirror.shank.taper, 25);
  EXPECT_EQ(mirror.length, 85);
  EXPECT_EQ(mirror.head_radius, 23);
  EXPECT_DOUBLE_EQ(mirror.swing_rad, 11 * kDeg);
  EXPECT_EQ(mirror.error, 0.009);
  const auto& rod = std::get<TwoBallStylus>(scene.offset_styli[1]);
  EXPECT_EQ(rod.name, "rod-2");
  EXPECT_EQ(rod.shank.tip_radius, 3);
  EXPECT_EQ(rod.shank.radius, 4);
  EXPECT_EQ(rod.shank.taper, 30);
  EXPECT_EQ(rod.ball_distances, (std::array<double, 2>{150, 350}));
  EXPECT_EQ(rod.ball_radius, 6);
  EXPECT_DOUBLE_EQ(rod.acceptance_rad, 35 * kDeg);
  EXPECT_EQ(rod.error, 0.013);
}

TEST(ReadSceneValues, FeatureShapes) {
  const Scene scene = scene_of(full_scene());
  ASSERT_EQ(scene.features.size(), 22u) << "two of them in a list";
  const auto& pad = std::get<PointFeature>(scene.features[0].shape);
  EXPECT_EQ(pad.at, Vec3(0, 0, 50));
  EXPECT_EQ(pad.normal, Vec3(0, 0, 1)) << "made a unit vector";
  const auto& top = std::get<PlaneFeature>(scene.features[1].shape);
  ASSERT_EQ(top.points.size(), 4u);
  EXPECT_EQ(top.points[2], Vec3(500, 400, 50));
  EXPECT_EQ(top.normal, Vec3(0, 0, 1));
  const auto& dowel = std::get<HoleFeature>(scene.features[2].shape);
  EXPECT_EQ(dowel.centre, Vec3(80, 40, 50));
  expect_near(dowel.axis, Vec3(0, 0.6, 0.8), 1e-15);
  EXPECT_EQ(dowel.radius, 2.5);
  EXPECT_EQ(dowel.depth, 12);
  const auto& bore = std::get<CylinderFeature>(scene.features[3].shape);
  EXPECT_EQ(bore.centre, Vec3(250, 200, 50));
  EXPECT_EQ(bore.radius, 90);
  EXPECT_EQ(bore.length, 120);
  EXPECT_TRUE(bore.inside);
  EXPECT_FALSE(std::get<CylinderFeature>(scene.features[5].shape).inside);
  const auto& edge = std::get<LineFeature>(scene.features[11].shape);
  EXPECT_EQ(edge.from, Vec3(0, 0, 50));
  EXPECT_EQ(edge.to, Vec3(500, 0, 50));
  expect_near(edge.normal, Vec3::UnitZ(), 1e-15);  // made square to the line
  const auto& taper = std::get<ConeFeature>(scene.features[12].shape);
  EXPECT_EQ(taper.centre, Vec3(250, 200, 50));
  EXPECT_EQ(taper.axis, -Vec3::UnitZ());
  EXPECT_EQ(taper.radius, 30);
  EXPECT_DOUBLE_EQ(taper.half_angle_rad, 20 * kDeg);
  EXPECT_EQ(taper.length, 30);
  EXPECT_TRUE(taper.inside);
  const auto& keyway = std::get<SlotFeature>(scene.features[13].shape);
  EXPECT_EQ(keyway.axis, Vec3::UnitZ());
  expect_near(keyway.along, Vec3::UnitX(), 1e-15);  // made square to the axis
  EXPECT_EQ(keyway.width, 14);
  EXPECT_EQ(keyway.length, 40);
  EXPECT_EQ(keyway.depth, 12);
  const auto& skin = std::get<SurfaceFeature>(scene.features[14].shape);
  EXPECT_EQ(skin.body, BodyId(3));
  EXPECT_EQ(skin.spacing, 900);
  EXPECT_EQ(skin.share, 0.8);
  // The cabinet: 600 x 400 (turned by its frame) x 1800 about (100, 200), from 300 up.
  const Vec3 low(-200, 0, 300), high(400, 400, 2100);
  for (const PointFeature& touch : skin.touches) {
    EXPECT_TRUE((touch.at.array() >= low.array() - 1e-6).all() &&
                (touch.at.array() <= high.array() + 1e-6).all())
        << touch.at.transpose();
    EXPECT_NEAR(touch.normal.cwiseAbs().maxCoeff(), 1, 1e-12);
  }
  for (const std::size_t lid : {18, 19}) {  // by the number of a face; by a polygon
    const auto& raised = std::get<SurfaceFeature>(scene.features[lid].shape);
    ASSERT_FALSE(raised.touches.empty());
    EXPECT_EQ(raised.share, 0.9);
    for (const PointFeature& touch : raised.touches) EXPECT_NEAR(touch.at.z(), 2100, 1e-6);
  }
  const auto& boss = std::get<SphereFeature>(scene.features[4].shape);
  EXPECT_EQ(boss.centre, Vec3(400, 300, 90));
  EXPECT_EQ(boss.radius, 30);
  EXPECT_EQ(boss.toward, Vec3(0, 0, 1));
}

TEST(ReadSceneValues, WhatEveryFeatureMayHave) {
  const Scene scene = scene_of(full_scene());
  const Feature& pad = scene.features[0];
  EXPECT_EQ(pad.name, "pad");
  EXPECT_EQ(pad.tolerance, 0.5);
  EXPECT_FALSE(pad.required);
  EXPECT_EQ(pad.touch_count, 1);
  EXPECT_EQ(pad.enough_touches, 1);
  // Full targets come first, then styli: ball-38 is 0, rod-2 is 3.
  EXPECT_EQ(pad.targets, (std::vector<TargetId>{TargetId(0), TargetId(4)}));
  const Feature& pin = scene.features[5];
  EXPECT_FALSE(pin.tolerance.has_value());
  EXPECT_TRUE(pin.required);
  EXPECT_TRUE(pin.targets.empty());
  EXPECT_FALSE(pin.touch_count.has_value());
  EXPECT_FALSE(pin.enough_touches.has_value());
}

TEST(ReadSceneValues, NestsStationsAndRules) {
  const Scene scene = scene_of(full_scene());
  ASSERT_EQ(scene.nests.size(), 4u) << "one of them in a list";
  EXPECT_EQ(scene.nests[1].name, "N2");
  EXPECT_EQ(scene.nests[1].at, Vec3(-2000, -500, 300));
  EXPECT_EQ(scene.nests[1].normal, Vec3(0, 1, 0));
  EXPECT_DOUBLE_EQ(scene.nests[1].seat_rad, 40 * kDeg);
  ASSERT_EQ(scene.nest_sites.size(), 1u);
  EXPECT_EQ(scene.nest_sites[0].name, "site-1");
  ASSERT_EQ(scene.nest_surfaces.size(), 1u);
  EXPECT_EQ(scene.nest_surfaces[0].body, BodyId(2));
  EXPECT_EQ(scene.nest_surfaces[0].spacing, 200);
  EXPECT_EQ(scene.nest_surfaces[0].polygon[2], Vec2(1000, 800));
  EXPECT_EQ(scene.datum, (std::vector<std::string>{"N1", "site-1", "top"}));
  ASSERT_EQ(scene.fixed_stations.size(), 2u);
  EXPECT_EQ(scene.fixed_stations[0].name, "door");
  EXPECT_EQ(scene.fixed_stations[0].at, Vec3(3000, -2500, 1400));
  EXPECT_TRUE(scene.fixed_stations[0].keep);
  ASSERT_EQ(scene.zones.size(), 2u);
  EXPECT_EQ(scene.zones[0].name, "south aisle");
  EXPECT_EQ(scene.zones[0].floor, -10);
  EXPECT_EQ(scene.zones[0].polygon.size(), 4u);
  EXPECT_EQ(scene.zones[0].heights, (std::vector<double>{1100, 1500}));
  EXPECT_EQ(scene.zones[0].spacing, 500);
  ASSERT_EQ(scene.walkways.size(), 1u);
  EXPECT_EQ(scene.walkways[0].name, "gangway");
  EXPECT_EQ(scene.walkways[0].floor, 5);
  EXPECT_EQ(scene.walkways[0].polygon[1], Vec2(9000, 5000));
  EXPECT_EQ(scene.rules.min_margin, 1);
  EXPECT_EQ(scene.rules.tight_margin, 6);
  EXPECT_EQ(scene.rules.fit_tolerance, 0.3);
  EXPECT_EQ(scene.rules.stations_per_feature, 2);
  EXPECT_EQ(scene.rules.shared_nests, 4);
  EXPECT_TRUE(scene.rules.ties_by_stylus);
  EXPECT_DOUBLE_EQ(scene.rules.rim_contact_rad.low, 25 * kDeg);
  EXPECT_DOUBLE_EQ(scene.rules.rim_contact_rad.high, 70 * kDeg);
  EXPECT_EQ(scene.rules.max_expanded, 0.08);
}

TEST(ReadSceneValues, Environment) {
  const Environment environment = scene_of(full_scene()).environment;
  EXPECT_EQ(environment.part_temperature, 24);
  EXPECT_EQ(environment.part_temperature_error, 0.5);
  EXPECT_EQ(environment.expansion, 1.15e-5);
  EXPECT_EQ(environment.expansion_error, 1e-6);
  EXPECT_EQ(environment.air_temperature, 22);
  EXPECT_EQ(environment.air_temperature_error, 0.6);
  EXPECT_EQ(environment.air_pressure, 100500);
  EXPECT_EQ(environment.air_pressure_error, 150);
  EXPECT_EQ(environment.humidity, 0.45);
  EXPECT_EQ(environment.humidity_error, 0.1);
  EXPECT_EQ(environment.wavelength_um, 0.65);
  EXPECT_EQ(environment.gradient_error, 0.0004) << "K per metre in the file, K per mm inside";
  EXPECT_EQ(environment.nest_repeatability, 0.003);
}

TEST(ReadSceneValues, BodiesArePlacedByMeshUnitsThenFixedXThenYThenZThenShift) {
  std::vector<BodyRequest> requests;
  SceneSources sources = scene_samples::stand_ins();
  sources.body = [&](const BodyRequest& request) {
    requests.push_back(request);
    return scene_samples::load_stand_in(request);
  };
  const auto result = parse_scene(full_scene().dump(), "cell/any.json", sources);
  ASSERT_TRUE(result) << listed(result);
  ASSERT_EQ(requests.size(), 3u);
  EXPECT_EQ(requests[0].file, std::filesystem::path("cell/bedplate.step"));
  EXPECT_FALSE(requests[0].mm_per_unit.has_value());
  EXPECT_EQ(requests[0].default_mm_per_unit, 1);
  EXPECT_EQ(requests[0].chord_tolerance, 0.05);
  EXPECT_TRUE(requests[0].world_from_body.isApprox(Pose::Identity()));
  EXPECT_EQ(requests[1].mm_per_unit, 1000);
  EXPECT_EQ(requests[2].mm_per_unit, 25.4);
  // By hand: 90 degrees about x takes y to z; then 90 about the fixed z takes x to y and leaves z.
  // So x -> y, y -> z, z -> x (z -> -y -> x). Quarter turns are exact.
  const Pose& pose = requests[1].world_from_body;
  EXPECT_EQ(pose * Vec3(1, 0, 0), Vec3(1200, 11, -20));
  EXPECT_EQ(pose * Vec3(0, 1, 0), Vec3(1200, 10, -19));
  EXPECT_EQ(pose * Vec3(0, 0, 1), Vec3(1201, 10, -20));
  ASSERT_EQ(result->bodies.size(), 6u) << "three of them stand in the scene itself";
  EXPECT_EQ(result->bodies[1].format, "column.stl");
  EXPECT_EQ(result->scene.bodies[1].role, BodyRole::fixture);
  EXPECT_EQ(result->scene.bodies[2].role, BodyRole::surroundings);
  EXPECT_EQ(result->meshes[1]->vertices[1], Vec3(1200, 1010, -20));
}

TEST(ReadSceneValues, ARotationIsTheProductOfThreePlaneTurns) {
  Json scene = full_scene();
  scene["bodies"][1]["pose"] = {{"rotate_xyz_deg", {20, -35, 110}}};
  Pose seen;
  SceneSources sources = scene_samples::stand_ins();
  sources.body = [&](const BodyRequest& request) {
    if (request.file == "column.stl") seen = request.world_from_body;
    return scene_samples::load_stand_in(request);
  };
  const auto result = parse_scene(scene.dump(), "any.json", sources);
  ASSERT_TRUE(result) << listed(result);
  // Turned by plane trigonometry, one axis after the other, instead of matrices.
  double x = 0.3, y = -0.7, z = 1.9;
  const auto turn = [](double& a, double& b, double deg) {
    const double length = std::hypot(a, b), angle = std::atan2(b, a) + deg * kDeg;
    a = length * std::cos(angle);
    b = length * std::sin(angle);
  };
  turn(y, z, 20);
  turn(z, x, -35);
  turn(x, y, 110);
  expect_near(seen * Vec3(0.3, -0.7, 1.9), Vec3(x, y, z), 1e-14);
}

TEST(ReadSceneValues, DefaultsAreThoseStated) {
  const Scene scene = scene_of(least_scene());
  EXPECT_EQ(scene.name, "cell-file") << "the file's";
  EXPECT_EQ(scene.chord_tolerance, 0.1);
  EXPECT_EQ(scene.instrument.name, "instrument");
  EXPECT_EQ(scene.instrument.beam_growth_rad, 0);
  EXPECT_EQ(scene.instrument.body_radius, 0);
  EXPECT_EQ(scene.instrument.error.coverage_factor, 2);
  EXPECT_EQ(scene.instrument.error.transverse.fixed, 0);
  EXPECT_FALSE(states_error(scene.instrument));
  EXPECT_TRUE(scene.bodies.empty());
  EXPECT_TRUE(scene.datum.empty());
  // Contract section 2's example gives these for mm; docs/scene.md states them as the defaults.
  EXPECT_EQ(scene.rules.min_margin, 0);
  EXPECT_EQ(scene.rules.tight_margin, 5);
  EXPECT_EQ(scene.rules.fit_tolerance, 0.2);
  EXPECT_EQ(scene.rules.stations_per_feature, 1);
  EXPECT_EQ(scene.rules.shared_nests, 3);
  EXPECT_FALSE(scene.rules.ties_by_stylus);
  EXPECT_DOUBLE_EQ(scene.rules.rim_contact_rad.low, 20 * kDeg);
  EXPECT_DOUBLE_EQ(scene.rules.rim_contact_rad.high, 75 * kDeg);
  EXPECT_FALSE(scene.rules.max_expanded.has_value());
}

TEST(ReadSceneValues, DefaultsAreMmWhateverTheUnits) {
  Json json = least_scene();
  json["units"] = "m";
  json["offset_styli"] = Json::array({{{"name", "s"},
                                       {"kind", "mirror"},
                                       {"tip_diameter", 0},
                                       {"length", 0.085},
                                       {"shank_diameter", 0.004},
                                       {"head_diameter", 0.046},
                                       {"swing", 11}}});
  const Scene scene = scene_of(json);
  EXPECT_EQ(scene.rules.tight_margin, 5);
  EXPECT_EQ(scene.rules.fit_tolerance, 0.2);
  EXPECT_EQ(scene.chord_tolerance, 0.1);
  EXPECT_EQ(std::get<MirrorStylus>(scene.offset_styli[0]).shank.taper, 20);
}

TEST(ReadSceneValues, KeysMayStandInAnyOrder) {
  Json reversed = Json::object();
  const Json& scene = full_scene();
  for (auto it = scene.rbegin(); it != scene.rend(); ++it) reversed[it.key()] = it.value();
  const Scene straight = scene_of(scene), backward = scene_of(reversed);
  EXPECT_EQ(backward.features[0].targets, straight.features[0].targets);
  EXPECT_EQ(backward.nest_surfaces[0].body, straight.nest_surfaces[0].body);
  EXPECT_EQ(backward.datum, straight.datum);
  EXPECT_EQ(backward.zones[0].spacing, straight.zones[0].spacing);
}

TEST(ReadSceneValues, TinyAndHugeDirectionsBecomeUnit) {
  for (const double size : {5e-324, 1e-200, 1e-9, 1.0, 1e9}) {
    Json json = full_scene();
    json["features"][0]["normal"] = {0, size, -size};
    const Scene scene = scene_of(json);
    const Vec3 normal = std::get<PointFeature>(scene.features[0].shape).normal;
    expect_near(normal, Vec3(0, std::sqrt(0.5), -std::sqrt(0.5)), 1e-15);
  }
}

TEST(ReadSceneValues, AWholeNumberMayBeWrittenWithAFraction) {
  Json json = full_scene();
  json["rules"]["stations_per_feature"] = 3.0;
  EXPECT_EQ(scene_of(json).rules.stations_per_feature, 3);
}

TEST(ReadSceneValues, AnExampleWithPartOfTheKeysIsRead) {
  // A scene as in contract section 2, with figures of its own.
  const Scene scene = scene_of(Json::parse(R"json({
  "format": "standpoint-scene", "version": 1, "name": "demo", "units": "mm",
  "bodies": [
    {"name": "bedplate", "role": "part", "mesh": "bedplate.step"},
    {"name": "column-a", "role": "fixture", "mesh": "column.stl", "mesh_units": "m",
     "pose": {"translate": [1200, 0, 0], "rotate_xyz_deg": [0, 0, 90]}}
  ],
  "instrument": {
    "name": "invented instrument",
    "beam": {"diameter": 6.0, "growth_mrad": 0.2},
    "range": [400, 40000],
    "elevation": [-60, 75],
    "body": {"radius": 160, "above": 180, "below": 320},
    "error": {"coverage_factor": 2, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
              "radial": {"fixed": 0.012, "per_metre": 0.0009}}
  },
  "full_targets": [
    {"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 42}
  ],
  "offset_styli": [
    {"name": "mirror-6", "kind": "mirror", "tip_diameter": 6, "length": 85,
     "shank_diameter": 4, "head_diameter": 46, "swing": 11},
    {"name": "rod-2x", "kind": "two-ball", "tip_diameter": 6, "ball_distances": [150, 350],
     "ball_diameter": 12.7, "shank_diameter": 8, "acceptance": 30}
  ],
  "features": [
    {"name": "pad-1", "type": "point", "at": [0, 0, 50], "normal": [0, 0, 1]},
    {"name": "top", "type": "plane", "points": [[0,0,50],[500,0,50],[500,400,50],[0,400,50]], "normal": [0,0,1]},
    {"name": "dowel-3", "type": "hole", "centre": [80, 40, 50], "axis": [0, 0, 1], "diameter": 5, "depth": 12},
    {"name": "bore", "type": "cylinder", "centre": [250, 200, 50], "axis": [0,0,1], "diameter": 180, "length": 120, "side": "inside"},
    {"name": "boss", "type": "sphere", "centre": [400, 300, 90], "diameter": 60, "toward": [0,0,1]}
  ],
  "nests": [ {"name": "N1", "at": [2000, -500, 300], "normal": [0, 0, 1], "seat": 45} ],
  "stations": {
    "fixed": [ {"name": "door", "at": [3000, -2500, 1400]} ],
    "zones": [ {"name": "south aisle", "floor": 0, "polygon": [[-1000,-4000],[5000,-4000],[5000,-2000],[-1000,-2000]],
                "heights": [1100, 1500], "spacing": 500} ]
  },
  "rules": {"min_margin": 0, "tight_margin": 5, "fit_tolerance": 0.2,
            "stations_per_feature": 1, "shared_nests": 3, "rim_contact": [20, 75]}
})json"));
  EXPECT_EQ(scene.features.size(), 5u);
  EXPECT_EQ(std::get<TwoBallStylus>(scene.offset_styli[1]).shank.taper, 20);
  EXPECT_EQ(scene.instrument.error.coverage_factor, 2);
}

}  // namespace
}  // namespace standpoint
