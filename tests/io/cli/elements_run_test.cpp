// Lines, cones, slots and surfaces from the scene to the plan: contract section 9.

#include <cmath>
#include <numbers>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "standpoint/shapes.h"
#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

using Json = nlohmann::json;
using testing::HasSubstr;

/// A base 900 x 500 x 200 mm; on it four blocks about a recess of 60 x 20 x 30 mm, whose walls
/// stand in for a slot's, and a conical spigot.
class Elements : public WholeProgram {
 protected:
  Elements() {
    put_spigot();
    scene_ = Json::parse(R"({"format": "standpoint-scene", "version": 1, "units": "mm",
      "instrument": {"beam": {"diameter": 6}, "range": [400, 40000], "elevation": [-80, 75],
                     "error": {"transverse": {"fixed": 0.014, "per_metre": 0.0075},
                               "radial": {"fixed": 0.012, "per_metre": 0.0009}}},
      "bodies": [
        {"name": "base", "role": "part", "box": {"size": [900, 500, 200]}},
        {"name": "north", "role": "part", "box": {"size": [400, 190, 30]}, "pose": {"translate": [0, 105, 200]}},
        {"name": "south", "role": "part", "box": {"size": [400, 190, 30]}, "pose": {"translate": [0, -105, 200]}},
        {"name": "east", "role": "part", "box": {"size": [170, 20, 30]}, "pose": {"translate": [115, 0, 200]}},
        {"name": "west", "role": "part", "box": {"size": [170, 20, 30]}, "pose": {"translate": [-115, 0, 200]}},
        {"name": "spigot", "role": "part", "mesh": "spigot.stl", "mesh_units": "mm"}],
      "full_targets": [{"name": "ball", "diameter": 38.1, "acceptance": 30, "aperture": 42}],
      "offset_styli": [{"name": "mirror", "kind": "mirror", "tip_diameter": 6, "length": 85,
                        "shank_diameter": 4, "head_diameter": 46, "swing": 11}],
      "features": [
        {"name": "edge", "type": "line", "from": [-430, -220, 200], "to": [430, -220, 200], "normal": [0, 0, 1]},
        {"name": "taper", "type": "cone", "centre": [330, 0, 240], "axis": [0, 0, 1], "diameter": 90,
         "length": 30, "side": "outside"},
        {"name": "keyway", "type": "slot", "centre": [0, 0, 230], "axis": [0, 0, 1], "along": [1, 0, 0],
         "width": 20, "length": 60, "depth": 30, "touches": {"count": 6}},
        {"name": "deck", "type": "surface", "body": "base", "spacing": 120,
         "polygon": [[-440, -240], [-220, -240], [-220, 240], [-440, 240]]}],
      "stations": {"fixed": [{"name": "south", "at": [0, -1500, 3500]}]}})");
    scene_["features"][1]["angle"] = 2 * std::atan(0.1) * 180 / std::numbers::pi;
  }

  /// From z = 200, where its radius is 49, to 260, where it is 43; 48 sides.
  void put_spigot() const {
    const auto at = [](int i, double radius, double z) {
      const double angle = 2 * std::numbers::pi * i / 48;
      return Vec3(330 + radius * std::cos(angle), radius * std::sin(angle), z);
    };
    std::string stl = "solid spigot\n";
    const auto add = [&](const Vec3& a, const Vec3& b, const Vec3& c) {
      stl += "facet normal 0 0 0\nouter loop\n";
      for (const Vec3& p : {a, b, c}) stl += fmt::format("vertex {} {} {}\n", p.x(), p.y(), p.z());
      stl += "endloop\nendfacet\n";
    };
    const Vec3 foot(330, 0, 200), head(330, 0, 260);
    for (int i = 0; i < 48; ++i) {
      const int k = (i + 1) % 48;
      add(at(i, 49, 200), at(k, 49, 200), at(k, 43, 260));
      add(at(i, 49, 200), at(k, 43, 260), at(i, 43, 260));
      add(foot, at(k, 49, 200), at(i, 49, 200));
      add(head, at(i, 43, 260), at(k, 43, 260));
    }
    put("spigot.stl", stl + "endsolid spigot\n");
  }

  [[nodiscard]] Json planned() {
    put("scene.json", scene_.dump());
    const Outcome outcome = run({"plan", path("scene.json"), "-o", path("plan"), "--qif"});
    EXPECT_EQ(outcome.exit, Exit::done) << outcome.out << outcome.err;
    return Json::parse(got("plan/plan.json"), nullptr, false);
  }

  Json scene_;
};

TEST_F(Elements, ArePlannedEachByATargetThatTakesIt) {
  const Json plan = planned();
  ASSERT_TRUE(plan.is_object());
  ASSERT_EQ(plan["stations"].size(), 1u);
  struct Wanted {
    const char *verdict, *target;
    std::size_t touches;
  };
  const Wanted wanted[] = {{"full-target", "ball", 5},
                           {"full-target", "ball", 12},
                           {"offset-stylus", "mirror", 6},
                           {"full-target", "ball", 0}};
  for (std::size_t i = 0; i < 4; ++i) {
    const Json& feature = plan["features"][i];
    SCOPED_TRACE(feature["name"].get<std::string>());
    EXPECT_EQ(feature["verdict"], wanted[i].verdict);
    EXPECT_EQ(feature["target"], wanted[i].target);
    EXPECT_GT(feature["uncertainty"]["expanded"].get<double>(), 0.01);
    if (wanted[i].touches > 0) EXPECT_EQ(feature["touches"].size(), wanted[i].touches);
  }
  // About 220 x 480 mm at a spacing of 120.
  const Json& touches = plan["features"][3]["touches"];
  EXPECT_GE(touches.size(), 8u);
  EXPECT_LE(touches.size(), 20u);
  for (const Json& touch : touches) {
    EXPECT_EQ(touch["at"][2], 200);
    EXPECT_LE(touch["at"][0], -220);
  }
  const std::string page = got("plan/page.html");
  for (const char* word : {"line, from", "cone, outside, 90 mm wide",
                           "slot, 20 mm wide, 60 mm long", "surface of base"})
    EXPECT_THAT(page, HasSubstr(word));
}

TEST_F(Elements, OfASurfaceTheShareIsEnough) {
  // A wall hides a part of the deck from the only place.
  scene_["bodies"].push_back({{"name", "wall"},
                              {"role", "fixture"},
                              {"box", {{"size", {120, 10, 2500}}}},
                              {"pose", {{"translate", {-400, -300, 200}}}}});
  scene_["features"] = Json::array({scene_["features"][3]});
  const auto count = [&](const char* verdict) {
    const Json sight =
        Json::parse(run({"sight", path("scene.json"), "--station", "south", "--json"}).out);
    std::size_t reached = 0;
    for (const Json& touch : sight["features"][0]["touches"])
      reached += touch["verdict"] == "full-target" ? 1 : 0;
    EXPECT_EQ(sight["features"][0]["verdict"], verdict);
    return std::pair{reached, sight["features"][0]["touches"].size()};
  };
  scene_["features"][0]["share"] = 1;
  put("scene.json", scene_.dump());
  const auto [reached, all] = count("blocked");
  ASSERT_GT(reached, 0u);
  ASSERT_LT(reached, all);
  const double share = static_cast<double>(reached) / static_cast<double>(all);
  scene_["features"][0]["share"] = share - 1e-3;
  put("scene.json", scene_.dump());
  count("full-target");
  scene_["features"][0]["share"] = share + 1e-3;
  put("scene.json", scene_.dump());
  count("blocked");
}

TEST_F(Elements, AreCountedByCheckAndWarnedOfWhereTheyLieWrong) {
  put("scene.json", scene_.dump());
  const Outcome told = run({"check", path("scene.json")});
  EXPECT_THAT(told.out, HasSubstr("4 features (1 line, 1 cone, 1 slot and 1 surface)"));
  const auto warnings = [&] {
    put("scene.json", scene_.dump());
    std::vector<std::string> kinds;
    const Json checked = Json::parse(run({"check", path("scene.json"), "--json"}).out);
    for (const Json& warning : checked["warnings"])
      kinds.push_back(warning["kind"].get<std::string>() + " " +
                      warning["where"].get<std::string>());
    return kinds;
  };
  using Kinds = std::vector<std::string>;
  EXPECT_EQ(warnings(), Kinds{});
  scene_["features"][2]["axis"] = {0, 0, -1};
  EXPECT_EQ(warnings(), Kinds{"normal-inward /features/2"});
  scene_["features"][2]["axis"] = {0, 0, 1};
  scene_["features"][1]["side"] = "inside";
  EXPECT_EQ(warnings(), Kinds{"normal-inward /features/1"});
  scene_["features"][1]["side"] = "outside";
  scene_["features"][0]["to"] = {430, -220, 210};
  EXPECT_EQ(warnings(), Kinds{"feature-off /features/0"});
}

TEST_F(Elements, ASelectionWithoutSurfaceIsToldWhereItStands) {
  scene_["features"][3]["polygon"] = {{1000, 0}, {2000, 0}, {2000, 500}};
  put("scene.json", scene_.dump());
  const Outcome told = run({"check", path("scene.json")});
  EXPECT_EQ(told.exit, Exit::wrong_input);
  EXPECT_THAT(told.err, HasSubstr("/features/3/polygon: got"));
  EXPECT_THAT(told.err, HasSubstr("a polygon with some surface of the body over it that faces up"));
}

}  // namespace
}  // namespace standpoint
