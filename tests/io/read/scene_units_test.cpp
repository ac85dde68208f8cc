// A scene's units change its file, not the scene.

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

using scene_samples::full_scene;
using scene_samples::Json;
using scene_samples::listed;
using scene_samples::parse;

void expect_near(const Vec3& value, const Vec3& expected, double within) {
  EXPECT_LT((value - expected).norm(), within)
      << value.transpose() << " instead of " << expected.transpose();
}

SceneFile file_of(const Json& json) {
  auto result = parse(json);
  EXPECT_TRUE(result.has_value()) << listed(result);
  return std::move(result.value());  // throws, and so fails the test, where there is none
}

/// Multiplies every length of the full scene by `factor`: the keys that hold lengths are listed
/// here by hand, independent of the reader.
Json scaled(Json value, double factor, const std::string& key = "") {
  static const std::vector<std::string> kLengths{"chord_tolerance",
                                                 "translate",
                                                 "diameter",
                                                 "range",
                                                 "radius",
                                                 "above",
                                                 "below",
                                                 "fixed",
                                                 "per_metre",
                                                 "tip_diameter",
                                                 "length",
                                                 "shank_diameter",
                                                 "head_diameter",
                                                 "taper",
                                                 "error",
                                                 "ball_distances",
                                                 "ball_diameter",
                                                 "at",
                                                 "tolerance",
                                                 "points",
                                                 "centre",
                                                 "depth",
                                                 "polygon",
                                                 "spacing",
                                                 "floor",
                                                 "heights",
                                                 "min_margin",
                                                 "nest_repeatability",
                                                 "tight_margin",
                                                 "fit_tolerance",
                                                 "max_expanded",
                                                 "size",
                                                 "height",
                                                 "from",
                                                 "to",
                                                 "width",
                                                 "box",
                                                 "holes",
                                                 "hole_diameter",
                                                 "base_diameter"};
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

TEST(SceneUnits, TheSameSceneInOtherUnitsIsTheSame) {
  const SceneFile mm_file = file_of(full_scene());
  const Scene& mm = mm_file.scene;
  // mm per unit by definition of the metre and the international inch and foot.
  const std::vector<std::pair<std::string, double>> units{
      {"cm", 10}, {"m", 1000}, {"in", 25.4}, {"ft", 304.8}};
  for (const auto& [unit, mm_per_unit] : units) {
    SCOPED_TRACE(unit);
    Json json = scaled(full_scene(), 1 / mm_per_unit);
    json["units"] = unit;
    const SceneFile file = file_of(json);
    const Scene& scene = file.scene;
    EXPECT_EQ(scene.units, unit);
    EXPECT_NEAR(scene.instrument.beam_diameter, 6, 1e-12);
    EXPECT_NEAR(scene.instrument.beam_growth_rad, 0.0002, 1e-16) << "a ratio has no unit";
    EXPECT_NEAR(scene.instrument.range.high, 40000, 1e-9);
    EXPECT_NEAR(scene.instrument.error.transverse.fixed, 0.014, 1e-15);
    EXPECT_NEAR(scene.instrument.error.transverse.per_mm, 7.5e-6, 1e-18);
    EXPECT_NEAR(scene.full_targets[0].radius, 19, 1e-12);
    EXPECT_NEAR(std::get<MirrorStylus>(scene.offset_styli[0]).shank.taper, 25, 1e-12);
    EXPECT_NEAR(std::get<TwoBallStylus>(scene.offset_styli[1]).ball_distances[1], 350, 1e-11);
    expect_near(std::get<HoleFeature>(scene.features[2].shape).axis, Vec3(0, 0.6, 0.8), 1e-15);
    expect_near(std::get<PlaneFeature>(scene.features[1].shape).points[2], Vec3(500, 400, 50),
                1e-11);
    EXPECT_NEAR(*scene.features[0].tolerance, 0.5, 1e-14);
    expect_near(std::get<LineFeature>(scene.features[11].shape).to, Vec3(500, 0, 50), 1e-11);
    EXPECT_NEAR(std::get<ConeFeature>(scene.features[12].shape).radius, 30, 1e-12);
    EXPECT_NEAR(std::get<SlotFeature>(scene.features[13].shape).length, 40, 1e-12);
    const auto& skin = std::get<SurfaceFeature>(scene.features[14].shape);
    EXPECT_NEAR(skin.spacing, 900, 1e-10);
    EXPECT_GE(skin.touches.size(), 3u);
    expect_near(scene.nests[0].at, mm.nests[0].at, 1e-10);
    EXPECT_NEAR(scene.zones[0].heights[1], 1500, 1e-10);
    EXPECT_NEAR(scene.zones[0].polygon[0].x(), -1000, 1e-10);
    EXPECT_NEAR(scene.zones[0].holes[0][1].x(), 800, 1e-10);
    EXPECT_EQ(scene.zones[0].cost, 0.5) << "a cost has no unit";
    EXPECT_NEAR(scene.keep_outs[0].polygon[2].y(), -2400, 1e-10);
    EXPECT_NEAR(scene.hole_adapters[0].hole_diameter.low, 9.95, 1e-12);
    EXPECT_NEAR(scene.hole_adapters[0].height, 30, 1e-12);
    EXPECT_NEAR(scene.hole_adapters[0].base_radius, 16, 1e-12);
    EXPECT_NEAR(scene.rules.fit_tolerance, 0.3, 1e-14);
    EXPECT_NEAR(*scene.rules.max_expanded, 0.08, 1e-14);
    EXPECT_NEAR(scene.chord_tolerance, 0.05, 1e-14);
    EXPECT_NEAR(scene.environment.nest_repeatability, 0.003, 1e-16);
    EXPECT_EQ(scene.environment.gradient_error, 0.0004) << "per metre whatever the units";
    // The mesh's own unit is not the scene's.
    expect_near(file.meshes[1]->vertices[1], mm_file.meshes[1]->vertices[1], 1e-9);
  }
}

}  // namespace
}  // namespace standpoint
