// The same features in a scene, in a list and in a QIF document have the same verdicts.
#include <cmath>
#include <set>

#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"
#include "tests/io/read/qif_text.h"

namespace standpoint {
namespace {

using Json = nlohmann::json;

class ListedFeatures : public WholeProgram {
 protected:
  static Json scene() {
    return Json::parse(R"({
      "format": "standpoint-scene", "version": 1, "units": "mm",
      "bodies": [{"name": "block", "role": "part", "box": {"size": [600, 400, 50]}},
                 {"name": "post", "role": "fixture", "box": {"size": [60, 60, 1900]},
                  "pose": {"translate": [700, -900, 0]}}],
      "instrument": {"name": "invented", "beam": {"diameter": 5.3, "growth_mrad": 0.21},
        "range": [310, 33000], "elevation": [-55, 71], "body": {"radius": 140, "above": 190, "below": 310}},
      "full_targets": [{"name": "ball", "diameter": 38.1, "acceptance": 31, "aperture": 41}],
      "offset_styli": [{"name": "mirror-6", "kind": "mirror", "tip_diameter": 6, "length": 85,
        "shank_diameter": 4, "head_diameter": 46, "swing": 11}],
      "features": [
        {"name": "pad", "type": "point", "at": [120.5, -80, 50], "normal": [0, 0, 1], "tolerance": 0.3},
        {"name": "under", "type": "point", "at": [0, 0, 0], "normal": [0, 0, -1], "required": false},
        {"name": "top", "type": "plane", "points": [[-200, -100, 50], [200, -100, 50], [0, 150, 50]], "normal": [0, 0, 1]},
        {"name": "rim", "type": "hole", "centre": [-90, 60, 50], "axis": [0, 0, 1], "diameter": 22, "depth": 30},
        {"name": "front", "type": "hole", "centre": [33, -200, 25], "axis": [0, -1, 0], "diameter": 70, "depth": 12},
        {"name": "pin", "type": "cylinder", "centre": [210, 120, 75], "axis": [0, 0, 1], "diameter": 30, "length": 50, "side": "outside"},
        {"name": "ball", "type": "sphere", "centre": [-210, 120, 90], "diameter": 60, "toward": [0, -0.6, 0.8]}],
      "nests": [{"name": "N1", "at": [900, -500, 300], "normal": [0, 0, 1], "seat": 45},
                {"name": "N2", "at": [-900, -500, 300], "normal": [0, 0, 1], "seat": 45},
                {"name": "N3", "at": [0, 700, 350], "normal": [0, 0, 1], "seat": 45}],
      "stations": {"fixed": [{"name": "south", "at": [300, -2600, 1400]}, {"name": "west", "at": [-2300, 100, 1500]}]},
      "rules": {"rim_contact": [20, 75]}})");
  }

  /// What one place of a scene file sees.
  Json seen(const std::string& file, const std::string& station) const {
    const Outcome outcome = run({"sight", path(file), "--station", station, "--json"});
    EXPECT_NE(outcome.exit, Exit::wrong_input) << outcome.err;
    const Json sight = Json::parse(outcome.out, nullptr, false);
    EXPECT_TRUE(sight.is_object()) << outcome.out;
    return sight;
  }

  static void expect_same(const Json& a, const Json& b, const std::string& list) {
    ASSERT_EQ(a.at(list).size(), b.at(list).size());
    for (std::size_t i = 0; i < a[list].size(); ++i) {
      const Json& one = a[list][i];
      const Json& other = b[list][i];
      SCOPED_TRACE(one.at("name").get<std::string>());
      EXPECT_EQ(one.at("name"), other.at("name"));
      EXPECT_EQ(one.at("verdict"), other.at("verdict"));
      EXPECT_EQ(one.at("target"), other.at("target"));
      ASSERT_EQ(one.at("margin").is_null(), other.at("margin").is_null());
      if (!one["margin"].is_null())
        EXPECT_NEAR(one["margin"].get<double>(), other["margin"].get<double>(), 1e-6);
    }
  }

  /// The scene with its features, and nests where `nests` is not empty, in files.
  void put_listed(const std::string& file, const std::string& features, const std::string& nests) {
    Json listed = scene();
    listed.erase("features");
    listed["feature_lists"] = Json::array({{{"file", features}}});
    if (!nests.empty()) {
      listed.erase("nests");
      listed["nest_lists"] = Json::array({{{"file", nests}}});
    }
    put(file, listed.dump());
  }
};

TEST_F(ListedFeatures, HaveTheSameVerdictsFromCsvAndQif) {
  put("scene.json", scene().dump());
  const Outcome planned = run({"plan", path("scene.json"), "-o", path("plan"), "--qif"});
  ASSERT_NE(planned.exit, Exit::wrong_input) << planned.err;
  EXPECT_NE(planned.out.find("plan.qif"), std::string::npos) << planned.out;
  put("plan.qif", got("plan/plan.qif"));
  const Outcome list = run({"features", path("plan.qif"), "--csv"});
  ASSERT_EQ(list.exit, Exit::done) << list.err;
  put("points.csv", list.out);
  put("nests.csv", "name;x;y;z;seat\nN1;900;-500;300;45\nN2;-900;-500;300,0;45\nN3;0;700;350;45\n");
  put_listed("from-qif.json", "plan.qif", "plan.qif");
  put_listed("from-csv.json", "points.csv", "nests.csv");
  for (const char* station : {"south", "west"}) {
    SCOPED_TRACE(station);
    const Json wanted = seen("scene.json", station);
    std::set<std::string> verdicts;
    for (const Json& feature : wanted["features"]) verdicts.insert(feature["verdict"]);
    EXPECT_GE(verdicts.size(), 2u);  // or nothing would be compared
    for (const char* other : {"from-qif.json", "from-csv.json"}) {
      SCOPED_TRACE(other);
      const Json found = seen(other, station);
      expect_same(wanted, found, "features");
      expect_same(wanted, found, "nests");
    }
  }
}

TEST_F(ListedFeatures, WhatIsPassedOverStandsInTheJsonToo) {
  put("part.qif", test::qif_with("<SphereFeatureDefinition id=\"15\"><InternalExternal>EXTERNAL",
                                 "<SphereFeatureDefinition id=\"15\"><InternalExternal>INTERNAL"));
  const Outcome found = run({"features", path("part.qif"), "--json"});
  ASSERT_EQ(found.exit, Exit::done) << found.err;
  const Json passed = Json::parse(found.out).at("passed_over");
  ASSERT_EQ(passed.size(), 1U) << passed;
  EXPECT_EQ(passed[0]["name"], "ball");
  EXPECT_EQ(passed[0]["element"], "SphereFeatureNominal");
  EXPECT_EQ(passed[0]["why"], "the inside of a sphere");
  EXPECT_EQ(passed[0]["file"], path("part.qif"));
  EXPECT_EQ(passed[0]["where"].get<std::string>().find(path("part.qif") + ":"), 0U) << passed;
}

TEST_F(ListedFeatures, AreAskedForTheirUnitOutsideAScene) {
  put("points.csv", "name,x,y,z\np,1,2,3\n");
  const Outcome asked = run({"features", path("points.csv")});
  EXPECT_EQ(asked.exit, Exit::wrong_input);
  EXPECT_NE(asked.err.find("points.csv:1:6: missing, expected the unit of the lengths"),
            std::string::npos)
      << asked.err;
  EXPECT_EQ(run({"features", path("points.csv"), "--units", "in"}).exit, Exit::done);
}

TEST_F(ListedFeatures, OfAListThatIsWrongAreToldWithLineAndColumn) {
  put("points.csv", "name,x,y,z\np,1,2\nq,1,b,3\n");
  put_listed("scene.json", "points.csv", "");
  const Outcome told = run({"check", path("scene.json")});
  EXPECT_EQ(told.exit, Exit::wrong_input);
  EXPECT_NE(told.err.find("points.csv:2:6: missing, expected for z"), std::string::npos)
      << told.err;
  EXPECT_NE(told.err.find("points.csv:3:5: got \"b\", expected for y"), std::string::npos)
      << told.err;
}

}  // namespace
}  // namespace standpoint
