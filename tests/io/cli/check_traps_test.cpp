// The usual mistakes in a scene: `check` warns of each, says how much and where, and is silent
// about a scene that only nearly has it.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "standpoint/shapes.h"
#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

using Json = nlohmann::ordered_json;
using testing::AllOf;
using testing::HasSubstr;

/// A block of 600 x 400 x 250 mm on the floor, with touches on five of its faces.
class CheckTraps : public WholeProgram {
 protected:
  CheckTraps() {
    scene_ = Json::parse(R"({"format": "standpoint-scene", "version": 1, "units": "mm",
      "instrument": {"beam": {"diameter": 6}, "range": [400, 40000], "elevation": [-60, 75],
                     "body": {"radius": 160, "above": 180, "below": 320}},
      "bodies": [{"name": "block", "role": "part", "box": {"size": [600, 400, 250]}}],
      "full_targets": [{"name": "ball", "diameter": 38, "acceptance": 30, "aperture": 42}],
      "features": [
        {"name": "top-1", "type": "point", "at": [-250, -150, 250], "normal": [0, 0, 1]},
        {"name": "top-2", "type": "point", "at": [250, 120, 250], "normal": [0, 0, 1]},
        {"name": "east", "type": "point", "at": [300, 40, 90], "normal": [1, 0, 0]},
        {"name": "west", "type": "point", "at": [-300, -70, 180], "normal": [-1, 0, 0]},
        {"name": "north", "type": "point", "at": [140, 200, 60], "normal": [0, 1, 0]},
        {"name": "south", "type": "point", "at": [-90, -200, 130], "normal": [0, -1, 0]}],
      "stations": {"zones": [{"name": "aisle", "heights": [1200], "spacing": 500,
                              "polygon": [[-2000, -3000], [2000, -3000], [2000, -2000]]}]}})");
  }

  /// The block as the triangles of a text STL file, each corner changed by `change`.
  template <class Change>
  void put_block(const std::string& name, Change change, bool is_inward = false) const {
    put(name, "solid block\n" + facets(change, is_inward) + "endsolid block\n");
  }
  template <class Change>
  static std::string facets(Change change, bool is_inward) {
    const auto corner = [](unsigned i) {
      return Vec3((i & 1U) != 0 ? 300 : -300, (i & 2U) != 0 ? 200 : -200, (i & 4U) != 0 ? 250 : 0);
    };
    constexpr unsigned kTriangles[12][3] = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6},
                                            {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5},
                                            {0, 1, 5}, {0, 5, 4}, {2, 6, 7}, {2, 7, 3}};
    std::string stl;
    for (const auto& t : kTriangles) {
      stl += "facet normal 0 0 0\nouter loop\n";
      for (const unsigned k : {0U, is_inward ? 2U : 1U, is_inward ? 1U : 2U}) {
        const Vec3 p = change(corner(t[k]));
        stl += fmt::format("vertex {} {} {}\n", p.x(), p.y(), p.z());
      }
      stl += "endloop\nendfacet\n";
    }
    return stl;
  }
  void use_mesh(const std::string& name) {
    scene_["bodies"][0].erase("box");
    scene_["bodies"][0]["mesh"] = name;
  }

  /// What `check` warns of: each kind with its entry.
  [[nodiscard]] std::vector<std::string> warnings() {
    put("scene.json", scene_.dump());
    const Outcome checked = run({"check", path("scene.json"), "--json"});
    EXPECT_EQ(checked.exit, Exit::done) << checked.err;
    told_ = Json::parse(checked.out)["warnings"];
    std::vector<std::string> kinds;
    for (const Json& warning : told_)
      kinds.push_back(warning["kind"].get<std::string>() + " " +
                      warning["where"].get<std::string>());
    return kinds;
  }
  [[nodiscard]] std::string text(std::size_t i = 0) const { return told_.at(i)["text"]; }
  [[nodiscard]] double amount(std::size_t i = 0) const { return told_.at(i)["amount"]; }

  using Kinds = std::vector<std::string>;
  Json scene_, told_;
};

TEST_F(CheckTraps, ASoundSceneHasNone) {
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, APartReadInAUnitAThousandTimesTooSmall) {
  put_block("block.stl", [](const Vec3& p) { return Vec3(p / 1000); });
  use_mesh("block.stl");
  EXPECT_EQ(warnings(), Kinds{"misplaced-part /bodies/0"});
  EXPECT_THAT(text(), AllOf(HasSubstr("1000 times too small"), HasSubstr("\"mesh_units\": \"m\""),
                            HasSubstr("/bodies/0")));
  scene_["bodies"][0]["mesh_units"] = "m";
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, APartReadInAUnitThatIsTooLarge) {
  put_block("block.stl", [](const Vec3& p) { return p; });
  use_mesh("block.stl");
  scene_["bodies"][0]["mesh_units"] = "in";
  EXPECT_EQ(warnings(), Kinds{"misplaced-part /bodies/0"});
  EXPECT_THAT(text(), AllOf(HasSubstr("25.4 times too large"), HasSubstr("\"mm\"")));
  scene_["bodies"][0]["mesh_units"] = "mm";
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, APartWhoseYPointsUp) {
  put_block("block.stl", [](const Vec3& p) { return Vec3(p.x(), p.z(), -p.y()); });
  use_mesh("block.stl");
  EXPECT_EQ(warnings().at(0), "misplaced-part /bodies/0");
  EXPECT_THAT(text(), AllOf(HasSubstr("Y points up"), HasSubstr("[90, 0, 0]")));
  scene_["bodies"][0]["pose"] = {{"rotate_xyz_deg", {90, 0, 0}}};
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, APartOfAnotherUnitThatAlsoLiesOnItsSide) {
  put_block("block.stl", [](const Vec3& p) { return Vec3(Vec3(p.x(), p.z(), -p.y()) / 25.4); });
  use_mesh("block.stl");
  EXPECT_EQ(warnings().at(0), "misplaced-part /bodies/0");
  EXPECT_THAT(text(), AllOf(HasSubstr("\"in\""), HasSubstr("[90, 0, 0]")));
}

TEST_F(CheckTraps, WithoutFeaturesTheRangeTellsAPartsSize) {
  scene_["features"].clear();
  scene_["bodies"][0]["box"]["size"] = {118000, 400, 250};
  EXPECT_EQ(warnings(), Kinds{});
  scene_["bodies"][0]["box"]["size"] = {122000, 400, 250};
  EXPECT_EQ(warnings(), Kinds{"part-too-large /bodies/0"});
  EXPECT_NEAR(amount(), 122001, 1);
  scene_["bodies"][0]["box"]["size"] = {18, 4, 5};
  EXPECT_EQ(warnings(), Kinds{"part-too-small /bodies/0"});
  scene_["bodies"][0]["box"]["size"] = {20, 4, 5};
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, TheWallOfACavityFacesInwardAndRightlySo) {
  put("block.stl", "solid block\n" + facets([](const Vec3& p) { return p; }, false) +
                       facets([](const Vec3& p) { return Vec3(p / 2 + Vec3(0, 0, 50)); }, true) +
                       "endsolid block\n");
  use_mesh("block.stl");
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, FewStrayFeaturesDoNotSayThatThePartIsWrong) {
  // Three of nine lie where a part 1000 times as large would have them.
  for (int i = 2; i < 5; ++i) {
    Json stray = scene_["features"][i];
    stray["name"] = "stray " + stray["name"].get<std::string>();
    for (Json& x : stray["at"]) x = 1000 * x.get<double>();
    scene_["features"].push_back(stray);
  }
  EXPECT_EQ(warnings(), (Kinds{"feature-off /features/6", "feature-off /features/7",
                               "feature-off /features/8"}));
}

TEST_F(CheckTraps, APartThatWouldShrinkToAPointIsNoAnswer) {
  // Its features lie together about its file's origin, 500 mm from it.
  put_block("block.stl", [](const Vec3& p) { return Vec3(p + Vec3(800, 0, 0)); });
  use_mesh("block.stl");
  while (scene_["features"].size() > 3) scene_["features"].erase(3);
  for (int i = 0; i < 3; ++i) scene_["features"][i]["at"] = {0, 0.1 * i, 0.1};
  EXPECT_EQ(warnings(), (Kinds{"feature-off /features/0", "feature-off /features/1",
                               "feature-off /features/2"}));
}

TEST_F(CheckTraps, APartThatIsTiltedByItsPoseIsNotToldToTurn) {
  put_block("block.stl", [](const Vec3& p) { return p; });
  use_mesh("block.stl");
  scene_["bodies"][0]["pose"] = {{"rotate_xyz_deg", {90, 0, 0}}};
  for (const std::string& warning : warnings())
    EXPECT_EQ(warning.find("misplaced-part"), std::string::npos) << text();
}

TEST_F(CheckTraps, FeaturesThatLieOnAPartSayThatItsSizeIsRight) {
  scene_["instrument"]["range"] = {50, 200};  // the block is 764 mm across
  EXPECT_EQ(warnings(), Kinds{});
  scene_["features"].erase(2);
  scene_["features"].erase(2);
  scene_["features"].erase(2);
  scene_["features"].erase(2);  // two are left, which may be chance
  EXPECT_EQ(warnings(), Kinds{"part-too-large /bodies/0"});
}

TEST_F(CheckTraps, ANormalThatPointsIntoTheMaterial) {
  scene_["features"][2]["normal"] = {-1, 0, 0};
  EXPECT_EQ(warnings(), Kinds{"normal-inward /features/2"});
  EXPECT_THAT(text(), AllOf(HasSubstr("east"), HasSubstr("block"), HasSubstr("\"normal\"")));
  scene_["features"][2]["normal"] = {0.3, 0.9, 0};  // far off square, and still outward
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, AHolesAxisThatPointsIntoTheHole) {
  // A recess 100 x 100 mm, 30 deep, between two blocks and a lower one: its walls stand in for a
  // bore's, which touches them at four of its places.
  scene_["features"].clear();
  scene_["bodies"] = Json::array();
  const auto add = [&](const char* name, std::array<double, 3> size, std::array<double, 3> at) {
    scene_["bodies"].push_back({{"name", name},
                                {"role", "part"},
                                {"box", {{"size", size}}},
                                {"pose", {{"translate", at}}}});
  };
  add("low", {300, 300, 220}, {0, 0, 0});
  add("east", {100, 300, 30}, {100, 0, 220});
  add("west", {100, 300, 30}, {-100, 0, 220});
  add("north", {100, 100, 30}, {0, 100, 220});
  add("south", {100, 100, 30}, {0, -100, 220});
  scene_["features"].push_back({{"name", "bore"},
                                {"type", "hole"},
                                {"centre", {0, 0, 250}},
                                {"axis", {0, 0, -1}},
                                {"diameter", 100},
                                {"depth", 30},
                                {"touches", {{"count", 4}}}});
  EXPECT_EQ(warnings(), Kinds{"normal-inward /features/0"});
  EXPECT_THAT(text(), HasSubstr("\"axis\""));
  scene_["features"][0]["axis"] = {0, 0, 1};
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, AFeatureOffEverySurface) {
  scene_["features"][0]["at"] = {-250, -150, 251.5};
  EXPECT_EQ(warnings(), Kinds{"feature-off /features/0"});
  EXPECT_NEAR(amount(), 1.5, 1e-9);
  EXPECT_THAT(text(), AllOf(HasSubstr("top-1"), HasSubstr("1.5 mm"), HasSubstr("block")));
  scene_["features"][0]["at"] = {-250, -150, 250.9};
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, AFeatureInsideOfItsPart) {
  scene_["features"][0]["at"] = {-250, -150, 230};
  EXPECT_EQ(warnings(), Kinds{"feature-inside /features/0"});
  EXPECT_NEAR(amount(), 20, 1e-9);
  EXPECT_THAT(text(), AllOf(HasSubstr("top-1"), HasSubstr("20.0 mm deep"), HasSubstr("block")));
  scene_["features"][0]["at"] = {-250, -150, 249.2};
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, AFeatureThatAFixtureCovers) {
  scene_["bodies"].push_back({{"name", "clamp"},
                              {"role", "fixture"},
                              {"box", {{"size", {80, 80, 60}}}},
                              {"pose", {{"translate", {-250, -150, 240}}}}});
  EXPECT_EQ(warnings(), Kinds{"feature-inside /features/0"});
  EXPECT_THAT(text(), HasSubstr("clamp"));
  scene_["bodies"][1]["pose"]["translate"] = {-165, -150, 240};  // 5 mm beside it
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, APartThatFloats) {
  scene_["bodies"][0]["pose"] = {{"translate", {0, 0, 30}}};
  for (Json& feature : scene_["features"]) feature["at"][2] = feature["at"][2].get<double>() + 30;
  EXPECT_EQ(warnings(), Kinds{"part-floats /bodies/0"});
  EXPECT_NEAR(amount(), 30, 1e-9);
  EXPECT_THAT(text(), AllOf(HasSubstr("30.0 mm above"), HasSubstr("aisle")));
  // On a bar, and 0.5 mm above it.
  scene_["bodies"].push_back(
      {{"name", "bar"}, {"role", "fixture"}, {"box", {{"size", {90, 500, 29.5}}}}});
  EXPECT_EQ(warnings(), Kinds{});
  // The bar itself floats.
  scene_["bodies"][1]["box"]["size"] = {90, 500, 20};
  scene_["bodies"][1]["pose"] = {{"translate", {0, 0, 9.5}}};
  EXPECT_EQ(warnings(), Kinds{"part-floats /bodies/0"});
  EXPECT_NEAR(amount(), 9.5, 1e-9);
}

TEST_F(CheckTraps, APartThatSinksIntoTheFloor) {
  scene_["stations"]["zones"][0]["floor"] = 5;
  EXPECT_EQ(warnings(), Kinds{"part-sinks /bodies/0"});
  EXPECT_NEAR(amount(), 5, 1e-9);
  EXPECT_THAT(text(), AllOf(HasSubstr("5.0 mm below"), HasSubstr("aisle")));
  scene_["stations"]["zones"][0]["floor"] = 0.9;
  EXPECT_EQ(warnings(), Kinds{});
  scene_["stations"]["zones"].clear();
  EXPECT_EQ(warnings(), Kinds{}) << "no floor to be judged by";
}

TEST_F(CheckTraps, AMeshWhoseTrianglesFaceInward) {
  put_block(
      "block.stl", [](const Vec3& p) { return p; }, true);
  use_mesh("block.stl");
  EXPECT_EQ(warnings(), Kinds{"inward-mesh /bodies/0"});
  scene_["bodies"][0]["role"] = "surroundings";  // a hall, seen from inside
  EXPECT_EQ(warnings(), Kinds{});
}

TEST_F(CheckTraps, ManyOfAKindAreCountedInTheText) {
  for (Json& feature : scene_["features"]) feature["at"][2] = 900;
  scene_["features"][0]["at"] = {0, 0, 250};
  scene_["features"][1]["at"] = {10, 0, 250};
  scene_["features"][2]["at"] = {20, 0, 250};
  scene_["features"][2]["normal"] = {0, 0, 1};
  for (int i = 0; i < 9; ++i) {
    scene_["features"].push_back({{"name", "far-" + std::to_string(i)},
                                  {"type", "point"},
                                  {"at", {0, 0, 2000 + 10 * i}},
                                  {"normal", {0, 0, 1}}});
  }
  EXPECT_EQ(warnings().size(), 12u);
  const Outcome checked = run({"check", path("scene.json")});
  EXPECT_THAT(checked.out, AllOf(HasSubstr("west"), HasSubstr("The same of 7 more features")));
}

TEST_F(CheckTraps, TheDrawingIsWrittenWithAllThatIsThere) {
  scene_["stations"]["fixed"] = {{{"name", "door"}, {"at", {900, -1500, 1300}}}};
  put("scene.json", scene_.dump());
  for (const char* name : {"out/scene.svg", "out/scene.html"}) {
    const Outcome checked = run({"check", path("scene.json"), "-o", path(name)});
    ASSERT_EQ(checked.exit, Exit::done) << checked.err;
    EXPECT_THAT(checked.out, HasSubstr(name));
    const std::string drawing = got(name);
    EXPECT_THAT(drawing, AllOf(HasSubstr("Top view of"), HasSubstr("Elevation of"),
                               HasSubstr("<title>block</title>"), HasSubstr(">door</text>"),
                               HasSubstr(">aisle</text>"), HasSubstr(">6</text>")));
  }
  EXPECT_EQ(got("out/scene.svg").find("var("), std::string::npos);
  EXPECT_THAT(got("out/scene.html"), HasSubstr("<li>north</li>"));
  EXPECT_EQ(run({"check", path("scene.json"), "-o", path("out/scene.pdf")}).exit,
            Exit::wrong_input);
}

}  // namespace
}  // namespace standpoint
