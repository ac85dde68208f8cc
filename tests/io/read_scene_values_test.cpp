// What a scene's values become inside: mm, rad, unit vectors. Expected values are worked out by
// hand from contract section 2; a few come from the defaults stated there.

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <numbers>

#include "tests/io/scene_samples.h"

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
  return result ? std::move(result->scene) : Scene{};
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
  EXPECT_EQ(instrument.error.transverse.fixed, 0.015);
  EXPECT_DOUBLE_EQ(instrument.error.transverse.per_mm, 6e-6);
  EXPECT_EQ(instrument.error.radial.fixed, 0.01);
  EXPECT_DOUBLE_EQ(instrument.error.radial.per_mm, 5e-7);
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
  EXPECT_EQ(mirror.name, "mirror-100");
  EXPECT_EQ(mirror.shank.tip_radius, 3);
  EXPECT_EQ(mirror.shank.radius, 5);
  EXPECT_EQ(mirror.shank.taper, 25);
  EXPECT_EQ(mirror.length, 100);
  EXPECT_EQ(mirror.head_radius, 25);
  EXPECT_DOUBLE_EQ(mirror.swing_rad, 12 * kDeg);
  EXPECT_EQ(mirror.error, 0.01);
  const auto& rod = std::get<TwoBallStylus>(scene.offset_styli[1]);
  EXPECT_EQ(rod.name, "rod-2");
  EXPECT_EQ(rod.shank.tip_radius, 3);
  EXPECT_EQ(rod.shank.radius, 4);
  EXPECT_EQ(rod.shank.taper, 30);
  EXPECT_EQ(rod.ball_distances, (std::array<double, 2>{150, 350}));
  EXPECT_EQ(rod.ball_radius, 6);
  EXPECT_DOUBLE_EQ(rod.acceptance_rad, 35 * kDeg);
  EXPECT_EQ(rod.error, 0.02);
}

TEST(ReadSceneValues, FeatureShapes) {
  const Scene scene = scene_of(full_scene());
  ASSERT_EQ(scene.features.size(), 6u);
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
  EXPECT_EQ(pad.targets, (std::vector<TargetId>{TargetId(0), TargetId(3)}));
  const Feature& pin = scene.features[5];
  EXPECT_FALSE(pin.tolerance.has_value());
  EXPECT_TRUE(pin.required);
  EXPECT_TRUE(pin.targets.empty());
  EXPECT_FALSE(pin.touch_count.has_value());
  EXPECT_FALSE(pin.enough_touches.has_value());
}

TEST(ReadSceneValues, NestsStationsAndRules) {
  const Scene scene = scene_of(full_scene());
  ASSERT_EQ(scene.nests.size(), 2u);
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
  ASSERT_EQ(scene.fixed_stations.size(), 1u);
  EXPECT_EQ(scene.fixed_stations[0].name, "door");
  EXPECT_EQ(scene.fixed_stations[0].at, Vec3(3000, -2500, 1400));
  EXPECT_TRUE(scene.fixed_stations[0].keep);
  ASSERT_EQ(scene.zones.size(), 1u);
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

TEST(ReadSceneValues, BodiesArePlacedByMeshUnitsThenFixedXThenYThenZThenShift) {
  std::vector<BodyRequest> requests;
  const auto result = parse_scene(full_scene().dump(), "cell", "", [&](const BodyRequest& request) {
    requests.push_back(request);
    return scene_samples::load_stand_in(request);
  });
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
  ASSERT_EQ(result->bodies.size(), 3u);
  EXPECT_EQ(result->bodies[1].format, "column.stl");
  EXPECT_EQ(result->scene.bodies[1].role, BodyRole::fixture);
  EXPECT_EQ(result->scene.bodies[2].role, BodyRole::surroundings);
  EXPECT_EQ(result->scene.bodies[1].mesh.vertices[1], Vec3(1200, 1010, -20));
}

TEST(ReadSceneValues, ARotationIsTheProductOfThreePlaneTurns) {
  Json scene = full_scene();
  scene["bodies"][1]["pose"] = {{"rotate_xyz_deg", {20, -35, 110}}};
  Pose seen;
  const auto result = parse_scene(scene.dump(), "", "", [&](const BodyRequest& request) {
    if (request.file == "column.stl") seen = request.world_from_body;
    return scene_samples::load_stand_in(request);
  });
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
                                       {"length", 0.1},
                                       {"shank_diameter", 0.004},
                                       {"head_diameter", 0.05},
                                       {"swing", 10}}});
  const Scene scene = scene_of(json);
  EXPECT_EQ(scene.rules.tight_margin, 5);
  EXPECT_EQ(scene.rules.fit_tolerance, 0.2);
  EXPECT_EQ(scene.chord_tolerance, 0.1);
  EXPECT_EQ(std::get<MirrorStylus>(scene.offset_styli[0]).shank.taper, 20);
}

/// Multiplies every length of the full scene by `factor`: the keys that hold lengths are listed
/// here by hand, independent of the reader.
Json scaled(Json value, double factor, const std::string& key = "") {
  static const std::vector<std::string> kLengths{
      "chord_tolerance", "translate",    "diameter",   "range",
      "radius",          "above",        "below",      "fixed",
      "per_metre",       "tip_diameter", "length",     "shank_diameter",
      "head_diameter",   "taper",        "error",      "ball_distances",
      "ball_diameter",   "at",           "tolerance",  "points",
      "centre",          "depth",        "polygon",    "spacing",
      "floor",           "heights",      "min_margin", "tight_margin",
      "fit_tolerance",   "max_expanded"};
  if (value.is_object()) {
    for (auto& [name, member] : value.items()) member = scaled(member, factor, name);
  } else if (value.is_array()) {
    for (auto& entry : value) entry = scaled(entry, factor, key);
  } else if (value.is_number() &&
             std::find(kLengths.begin(), kLengths.end(), key) != kLengths.end()) {
    value = value.get<double>() * factor;
  }
  return value;
}

TEST(ReadSceneValues, TheSameSceneInOtherUnitsIsTheSame) {
  const std::string in_mm = listed(parse(full_scene()));
  ASSERT_EQ(in_mm, "no faults");
  const Scene mm = scene_of(full_scene());
  // mm per unit by definition of the metre and the international inch and foot.
  const std::vector<std::pair<std::string, double>> units{
      {"cm", 10}, {"m", 1000}, {"in", 25.4}, {"ft", 304.8}};
  for (const auto& [unit, mm_per_unit] : units) {
    SCOPED_TRACE(unit);
    Json json = scaled(full_scene(), 1 / mm_per_unit);
    json["units"] = unit;
    const Scene scene = scene_of(json);
    EXPECT_EQ(scene.units, unit);
    EXPECT_NEAR(scene.instrument.beam_diameter, 6, 1e-12);
    EXPECT_NEAR(scene.instrument.beam_growth_rad, 0.0002, 1e-16) << "a ratio has no unit";
    EXPECT_NEAR(scene.instrument.range.high, 40000, 1e-9);
    EXPECT_NEAR(scene.instrument.error.transverse.fixed, 0.015, 1e-15);
    EXPECT_NEAR(scene.instrument.error.transverse.per_mm, 6e-6, 1e-18);
    EXPECT_NEAR(scene.full_targets[0].radius, 19, 1e-12);
    EXPECT_NEAR(std::get<MirrorStylus>(scene.offset_styli[0]).shank.taper, 25, 1e-12);
    EXPECT_NEAR(std::get<TwoBallStylus>(scene.offset_styli[1]).ball_distances[1], 350, 1e-11);
    expect_near(std::get<HoleFeature>(scene.features[2].shape).axis, Vec3(0, 0.6, 0.8), 1e-15);
    expect_near(std::get<PlaneFeature>(scene.features[1].shape).points[2], Vec3(500, 400, 50),
                1e-11);
    EXPECT_NEAR(*scene.features[0].tolerance, 0.5, 1e-14);
    expect_near(scene.nests[0].at, mm.nests[0].at, 1e-10);
    EXPECT_NEAR(scene.zones[0].heights[1], 1500, 1e-10);
    EXPECT_NEAR(scene.zones[0].polygon[0].x(), -1000, 1e-10);
    EXPECT_NEAR(scene.rules.fit_tolerance, 0.3, 1e-14);
    EXPECT_NEAR(*scene.rules.max_expanded, 0.08, 1e-14);
    EXPECT_NEAR(scene.chord_tolerance, 0.05, 1e-14);
    // The mesh's own unit is not the scene's.
    expect_near(scene.bodies[1].mesh.vertices[1], mm.bodies[1].mesh.vertices[1], 1e-9);
  }
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

class SceneFile : public testing::Test {
 protected:
  void SetUp() override {
    // One a test: they run at the same time.
    const std::string test = testing::UnitTest::GetInstance()->current_test_info()->name();
    folder_ = std::filesystem::path(testing::TempDir()) / ("standpoint scene file " + test);
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::filesystem::path write(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
    return folder_ / name;
  }

  std::filesystem::path folder_;
};

TEST_F(SceneFile, MeshesAreSoughtBesideTheScene) {
  const auto file = write("big cell.json", full_scene().dump());
  std::vector<std::filesystem::path> asked;
  const auto result = read_scene_with(file, [&](const BodyRequest& request) {
    asked.push_back(request.file);
    return scene_samples::load_stand_in(request);
  });
  ASSERT_TRUE(result) << listed(result);
  EXPECT_EQ(asked.at(0), folder_ / "bedplate.step");
}

TEST_F(SceneFile, AByteOrderMarkIsNoFault) {
  const auto file = write("marked.json", "\xEF\xBB\xBF" + least_scene().dump());
  const auto result = read_scene_with(file, scene_samples::load_stand_in);
  ASSERT_TRUE(result) << listed(result);
  EXPECT_EQ(result->scene.name, "marked") << "the file's name without folder and extension";
}

TEST_F(SceneFile, WhatCannotBeReadIsToldUnderItsPath) {
  const auto missing = folder_ / "none.json";
  for (const auto& path : {missing, folder_}) {
    const auto result = read_scene_with(path, scene_samples::load_stand_in);
    ASSERT_FALSE(result);
    ASSERT_EQ(result.error().size(), 1u);
    EXPECT_EQ(result.error()[0].kind, FaultKind::file_unreadable);
    EXPECT_EQ(result.error()[0].where, path.string());
  }
}

TEST_F(SceneFile, AFileBeyond64MiBIsRefusedUnread) {
  const auto file = write("big.json", "");
  std::filesystem::resize_file(file, (std::uintmax_t{64} << 20U) + 1);
  const auto result = read_scene_with(file, scene_samples::load_stand_in);
  ASSERT_FALSE(result);
  ASSERT_EQ(result.error().size(), 1u);
  EXPECT_EQ(result.error()[0].kind, FaultKind::file_too_large);
  EXPECT_NE(result.error()[0].allowed.find("64 MiB"), std::string::npos);
}

}  // namespace
}  // namespace standpoint
