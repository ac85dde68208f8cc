// The scene that the page carries comes back member for member.

#include "io/write/page/page_scene.h"

#include <cmath>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

/// A scene with something in every member, none at its default.
Scene full_scene() {
  Scene scene = hand_made::scene();
  scene.name = "quotes \" and </script> and \xC3\xA9";
  scene.mm_per_unit = 25.4;
  scene.chord_tolerance = 0.1 + 0.2;
  scene.nest_sites.push_back({"site", {1, 2, 1.0 / 3}, Vec3::UnitX(), 0.1});
  scene.nest_surfaces.push_back({BodyId(0), {{0, 1}, {2, 3}, {4, 1e-17}}, 12.5});
  scene.hole_adapters.push_back({"pin", {9.95, 10.05}, TargetId(0), 30, 16, 0.7});
  scene.fixed_stations.push_back({"door", {1, -0.0, 3}, true, 2.5, {-Vec3::UnitZ()}});
  scene.zones.push_back({"aisle", -1, {{0, 0}, {1, 0}, {0, 1}}, {1100, 1500}, 250});
  scene.zones.back().cost = 0.1;
  scene.zones.back().holes = {{{0, 0}, {0.1, 0}, {0, 0.1}}};
  scene.zones.back().instrument_ups = {Vec3(0, 0.6, 0.8), Vec3::UnitX()};
  scene.keep_outs.push_back({"pit", {{0, 0}, {1, 0}, {0, 1.0 / 3}}});
  scene.walkways.push_back({"way", 2, {{0, 0}, {1, 0}, {0, 1}}});
  scene.rules.max_expanded = 0.05;
  scene.rules.ties_by_stylus = true;
  scene.environment.humidity = 0.25;
  scene.environment.nest_repeatability = 0.002;
  scene.datum = {"N1"};
  const auto add = [&](const char* name, const Shape& shape) {
    Feature feature;
    feature.name = name;
    feature.shape = shape;
    scene.features.push_back(feature);
  };
  add("edge", LineFeature{{1, 2, 3}, {4, 5, 6.5}, Vec3::UnitZ()});
  add("taper", ConeFeature{{1, 2, 3}, Vec3::UnitX(), 4, 0.25, 5, true});
  add("slot", SlotFeature{{1, 2, 3}, Vec3::UnitZ(), Vec3::UnitY(), 8, 21, 5});
  add("hull", SurfaceFeature{BodyId(0), 500, 0.75, {{{1, 2, 1.0 / 3}, Vec3::UnitZ()}}});
  scene.features.push_back(
      {"ball", SphereFeature{{1, 2, 3}, Vec3::UnitZ(), 4}, 0.2, false, {TargetId(0)}, 7, 5});
  add("bore", CylinderFeature{{1, 2, 3}, Vec3::UnitZ(), 4, 5, true});
  add("hole", HoleFeature{{1, 2, 3}, Vec3::UnitZ(), 4, 5});
  scene.bodies[0].placement = {Mat3::Identity() * 0.1, Vec3(1, 2, 3), 25.4};
  return scene;
}

Cell full_cell() {
  return {full_scene(), hand_made::meshes()};
}

/// With meshes of the sizes that were read.
Cell cell_of(const PageScene& read) {
  Meshes meshes;
  for (const Mesh& mesh : read.meshes) meshes.push_back(std::make_shared<const Mesh>(mesh));
  return {read.scene, std::move(meshes)};
}

TEST(PageScene, ReadingAndWritingAgainChangesNothing) {
  const std::string written = page_scene(full_cell());
  EXPECT_EQ(page_scene(cell_of(read_page_scene(written))), written);
}

TEST(PageScene, NumbersAreExactAndMembersNamedAsInTheStruct) {
  const Scene scene = full_scene();
  const Cell cell = full_cell();
  const PageScene read = read_page_scene(page_scene(cell));
  const Scene& back = read.scene;
  EXPECT_EQ(back.chord_tolerance, 0.1 + 0.2);
  EXPECT_EQ(back.nest_sites[0].at, scene.nest_sites[0].at);
  EXPECT_TRUE(std::signbit(back.fixed_stations.back().at.y()));
  EXPECT_EQ(back.fixed_stations.back().cost, 2.5);
  EXPECT_EQ(back.fixed_stations.back().instrument_ups, std::vector<Vec3>{-Vec3::UnitZ()});
  EXPECT_EQ(back.zones.back().cost, 0.1);
  EXPECT_EQ(back.zones.back().holes, scene.zones.back().holes);
  EXPECT_EQ(back.zones.back().instrument_ups, scene.zones.back().instrument_ups);
  EXPECT_EQ(back.keep_outs.back().polygon, scene.keep_outs.back().polygon);
  EXPECT_EQ(back.hole_adapters.back().ball, TargetId(0));
  EXPECT_EQ(back.hole_adapters.back().height, 30);
  EXPECT_EQ(read.meshes[0].vertices.size(), cell.mesh(BodyId(std::size_t{0})).vertices.size());
  EXPECT_EQ(read.meshes[0].triangles.size(), cell.mesh(BodyId(std::size_t{0})).triangles.size());
  EXPECT_EQ(read.meshes[0].face_names, cell.mesh(BodyId(std::size_t{0})).face_names);
  EXPECT_EQ(back.bodies[0].placement.shift, Vec3(1, 2, 3));
  EXPECT_EQ(back.offset_styli.size(), scene.offset_styli.size());
  const Feature& ball = back.features[scene.features.size() - 3];
  EXPECT_EQ(std::get<SphereFeature>(ball.shape).radius, 4);
  EXPECT_EQ(ball.targets, std::vector{TargetId(0)});
  EXPECT_EQ(ball.touch_count, 7);
  const auto& hull = std::get<SurfaceFeature>(back.features[scene.features.size() - 4].shape);
  EXPECT_EQ(hull.share, 0.75);
  ASSERT_EQ(hull.touches.size(), 1u);
  EXPECT_EQ(hull.touches[0].at, Vec3(1, 2, 1.0 / 3));
  const auto& slot = std::get<SlotFeature>(back.features[scene.features.size() - 5].shape);
  EXPECT_EQ(slot.length, 21);
  EXPECT_EQ(slot.along, Vec3::UnitY());

  const auto object = nlohmann::json::parse(page_scene(cell));
  EXPECT_EQ(object["features"].back()["type"], "hole");
  EXPECT_EQ(object["features"].back()["tolerance"], nullptr);
  EXPECT_EQ(object["rules"]["max_expanded"], 0.05);
  EXPECT_EQ(object["instrument"]["range"]["high"], scene.instrument.range.high);
  EXPECT_EQ(object["bodies"][0]["triangles"], cell.mesh(BodyId(std::size_t{0})).triangles.size());
}

TEST(PageScene, ADamagedSceneIsRefused) {
  const std::string written = page_scene(full_cell());
  EXPECT_THROW((void)read_page_scene(written.substr(0, written.size() / 2)), std::exception);
  EXPECT_THROW((void)read_page_scene("{}"), std::exception);
  std::string other = written;
  other.replace(other.find("\"sphere\""), 8, "\"cube\"  ");
  EXPECT_THROW((void)read_page_scene(other), std::exception);
}

}  // namespace
}  // namespace standpoint
