// Every feature of the committed scenes lies on the committed CAD, right side out. Judged by
// OpenCASCADE on the exact surfaces, not by the program.

#include <set>

#include <gtest/gtest.h>
#include <BRepClass3d_SolidClassifier.hxx>

#include "scene_shapes.h"

namespace standpoint::scenes {
namespace {

class FeaturesOnPart : public testing::TestWithParam<const char*> {
 protected:
  std::filesystem::path file_ = scenes_folder() / GetParam() / "scene.json";
  nlohmann::json scene_ = read_json(file_);
  TopoDS_Shape bodies_ = placed_step_bodies(file_);
};

/// Files are rounded to 1e-6 in each coordinate and in normals.
constexpr double kOnSurface = 1e-5;

TEST_P(FeaturesOnPart, EveryContactLiesOnASurface) {
  for (const auto& feature : scene_["features"]) {
    for (const Contact& c : contacts(feature)) {
      EXPECT_LT(distance(bodies_, c.at), kOnSurface) << feature["name"];
    }
  }
}

TEST_P(FeaturesOnPart, EveryNormalPointsOutOfTheMaterial) {
  BRepClass3d_SolidClassifier inside(bodies_);
  const auto state = [&](const gp_Pnt& p) {
    inside.Perform(p, 1e-7);
    return inside.State();
  };
  for (const auto& feature : scene_["features"]) {
    if (feature["name"] == "foot-dowel") continue;  // it opens into the stand below it
    for (const Contact& c : contacts(feature)) {
      EXPECT_EQ(state(c.at.Translated(c.normal * 0.01)), TopAbs_OUT) << feature["name"];
      EXPECT_EQ(state(c.at.Translated(c.normal * -0.01)), TopAbs_IN) << feature["name"];
    }
  }
}

TEST_P(FeaturesOnPart, AHoleOpensInThePlaneOfItsRim) {
  for (const auto& feature : scene_["features"]) {
    if (feature["type"] != "hole") continue;
    // A ring of the surface round the rim: as far from its centre as the wall's ring plus 1 mm.
    nlohmann::json ring = feature;
    ring["diameter"] = feature["diameter"].get<double>() + 2;
    ring["type"] = "cylinder";
    ring["side"] = "outside";
    ring["length"] = 0.0;
    for (const Contact& c : contacts(ring)) {
      EXPECT_LT(distance(bodies_, c.at), kOnSurface) << feature["name"];
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Scenes, FeaturesOnPart, testing::Values("demo", "wire", "dowel"),
                         [](const auto& scene) { return std::string(scene.param); });

TEST(DemoScene, AsksForEveryKindOfFeatureWithEveryKindOfTarget) {
  const nlohmann::json scene = read_json(scenes_folder() / "demo" / "scene.json");
  std::set<std::string> types, names, kinds;
  int small_holes = 0;
  for (const auto& feature : scene["features"]) {
    types.insert(feature["type"]);
    EXPECT_TRUE(names.insert(feature["name"]).second) << feature["name"];
    if (feature["type"] == "hole" && feature["diameter"] == 5) ++small_holes;
  }
  for (const auto& stylus : scene["offset_styli"]) kinds.insert(stylus["kind"]);
  EXPECT_EQ(types, (std::set<std::string>{"point", "plane", "hole", "cylinder", "sphere"}));
  EXPECT_EQ(kinds, (std::set<std::string>{"mirror", "two-ball"}));
  EXPECT_GE(names.size(), 40u);
  EXPECT_GE(small_holes, 8);
  EXPECT_GE(scene["nests"].size(), 8u);
  EXPECT_GE(scene["walkways"].size(), 1u);
  EXPECT_GE(scene["stations"]["zones"].size(), 4u);
}

TEST(WireScene, TheAxisFromTheDoorPassesTheWireAndTheRimDoesNot) {
  const nlohmann::json scene = read_json(scenes_folder() / "wire" / "scene.json");
  // From the door the beam runs along y at x = 0, and meets the wire's place half-way, 2 m out.
  // The wire's surface is 2.5 mm from the axis; the beam's radius there is (6 + 0.0002 * 2000) / 2.
  const double beam_radius =
      (scene["instrument"]["beam"]["diameter"].get<double>() +
       scene["instrument"]["beam"]["growth_mrad"].get<double>() / 1000 * 2000) /
      2;
  EXPECT_NEAR(beam_radius, 3.2, 1e-12);
  EXPECT_EQ(scene["stations"]["fixed"][0]["at"], nlohmann::json({0, -4000, 1019.05}));
  EXPECT_EQ(scene["features"][0]["at"], nlohmann::json({0, 0, 1000}));
}

}  // namespace
}  // namespace standpoint::scenes
