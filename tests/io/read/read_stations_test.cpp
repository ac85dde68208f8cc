// How instruments stand, where they may not, and what hole adapters are, as the reader makes them
// of a scene file (contract section 9).

#include <gtest/gtest.h>

#include <numbers>

#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

using scene_samples::full_scene;
using scene_samples::Json;
using scene_samples::listed;
using scene_samples::parse;

constexpr double kDeg = std::numbers::pi / 180;

Scene scene_of(const Json& json) {
  auto result = parse(json);
  EXPECT_TRUE(result.has_value()) << listed(result);
  return std::move(result.value().scene);  // throws, and so fails the test, where there is none
}

TEST(ReadStations, HowInstrumentsStandAndWhatItCosts) {
  const Scene scene = scene_of(full_scene());
  const FixedStation &door = scene.fixed_stations[0], &beam = scene.fixed_stations[1];
  EXPECT_EQ(door.cost, 2.5);
  ASSERT_EQ(door.instrument_ups.size(), 1u);
  EXPECT_LT((door.instrument_ups[0] - Vec3(0, 0.6, 0.8)).norm(), 1e-15);
  EXPECT_EQ(beam.cost, 1);
  // Along an axis of the scene nothing is rounded, whatever the length.
  EXPECT_EQ(beam.instrument_ups, (std::vector<Vec3>{-Vec3::UnitZ(), Vec3::UnitZ()}));
  EXPECT_EQ(scene.zones[0].cost, 0.5);
  EXPECT_EQ(scene.zones[0].instrument_ups, std::vector<Vec3>{Vec3::UnitZ()});
  EXPECT_EQ(scene.zones[1].cost, 1);
  EXPECT_EQ(scene.zones[1].instrument_ups, (std::vector<Vec3>{Vec3::UnitX(), Vec3::UnitZ()}));
  // Where nothing is said it stands upright.
  Json plain = full_scene();
  plain["stations"]["fixed"][0].erase("instrument_up");
  plain["stations"]["fixed"][0].erase("cost");
  const Scene upright = scene_of(plain);
  EXPECT_EQ(upright.fixed_stations[0].instrument_ups, std::vector<Vec3>{Vec3::UnitZ()});
  EXPECT_EQ(upright.fixed_stations[0].cost, 1);
}

TEST(ReadStations, HolesAndKeepOuts) {
  Json json = full_scene();
  const Scene scene = scene_of(json);
  ASSERT_EQ(scene.zones[0].holes.size(), 1u);
  EXPECT_EQ(scene.zones[0].holes[0][2], Vec2(800, -2500));
  EXPECT_TRUE(scene.zones[1].holes.empty());
  ASSERT_EQ(scene.keep_outs.size(), 1u);
  EXPECT_EQ(scene.keep_outs[0].name, "pit");
  EXPECT_EQ(scene.keep_outs[0].polygon[1], Vec2(900, -3000));
}

TEST(ReadStations, AHoleAdapterStandsBetweenFullTargetsAndStyli) {
  const Scene scene = scene_of(full_scene());
  ASSERT_EQ(scene.hole_adapters.size(), 1u);
  const HoleAdapter* adapter = hole_adapter(scene, TargetId(2));
  ASSERT_EQ(adapter, &scene.hole_adapters[0]);
  EXPECT_EQ(target_name(scene, TargetId(2)), "pin-10");
  EXPECT_EQ(adapter->hole_diameter.low, 9.95);
  EXPECT_EQ(adapter->hole_diameter.high, 10.05);
  EXPECT_EQ(adapter->ball, TargetId(0));
  EXPECT_EQ(adapter->height, 30);
  EXPECT_EQ(adapter->base_radius, 16);
  EXPECT_DOUBLE_EQ(adapter->seat_rad, 50 * kDeg);
  EXPECT_TRUE(is_full_target(scene, TargetId(2)));
  EXPECT_EQ(full_target(scene, TargetId(2)).name, "ball-38");
  EXPECT_EQ(touching_radius(scene, TargetId(2)), 19);
  EXPECT_FALSE(is_full_target(scene, TargetId(3)));
  EXPECT_EQ(target_name(scene, TargetId(3)), "mirror-6");
  EXPECT_EQ(hole_adapter(scene, TargetId(1)), nullptr);
  EXPECT_EQ(hole_adapter(scene, TargetId(3)), nullptr);
  EXPECT_EQ(target_count(scene), 5u);
}

}  // namespace
}  // namespace standpoint
